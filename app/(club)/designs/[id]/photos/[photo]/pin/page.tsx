import type { Metadata } from 'next';
import { PinOn } from '../../../../../charts/photo-change';

export const metadata: Metadata = { title: 'Pin on a photo' };

export default async function Page({ params }: { params: Promise<{ id: string; photo: string }> }) {
  const { id, photo } = await params;
  return <PinOn kind="design" id={id} picture={photo} />;
}
