import type { Metadata } from 'next';
import { Versions } from '../../../charts/versions';

export const metadata: Metadata = { title: 'Versions' };

export default async function Page({ params }: { params: Promise<{ id: string }> }) {
  return <Versions kind="design" id={(await params).id} />;
}
