import type { Metadata } from 'next';
import { AddPhoto } from '../../../../charts/photo-change';

export const metadata: Metadata = { title: 'Add a photo' };

type Props = { params: Promise<{ id: string }>; searchParams: Promise<{ trouble?: string }> };

export default async function Page({ params, searchParams }: Props) {
  return <AddPhoto kind="machine" id={(await params).id} trouble={(await searchParams).trouble} />;
}
