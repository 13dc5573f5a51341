import type { Metadata } from 'next';
import { Photo } from '../../../../charts/photos';

export const metadata: Metadata = { title: 'A photo' };

type Props = { params: Promise<{ id: string; photo: string }>; searchParams: Promise<{ show?: string }> };

export default async function Page({ params, searchParams }: Props) {
  const { id, photo } = await params;
  return <Photo kind="machine" id={id} picture={photo} show={(await searchParams).show} />;
}
