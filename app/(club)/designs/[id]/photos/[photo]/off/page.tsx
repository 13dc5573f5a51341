import type { Metadata } from 'next';
import { TakeOff } from '../../../../../charts/photo-change';

export const metadata: Metadata = { title: 'Take a photo off' };

export default async function Page({ params }: { params: Promise<{ id: string; photo: string }> }) {
  const { id, photo } = await params;
  return <TakeOff kind="design" id={id} picture={photo} />;
}
