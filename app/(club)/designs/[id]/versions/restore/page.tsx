import type { Metadata } from 'next';
import { Restore } from '../../../../charts/restore';

export const metadata: Metadata = { title: 'Bring back' };
type Props = { params: Promise<{ id: string }>; searchParams: Promise<{ version?: string }> };

export default async function Page({ params, searchParams }: Props) {
  return <Restore kind="design" id={(await params).id} version={(await searchParams).version} />;
}
