import type { Metadata } from 'next';
import { Compare, type CompareQuery } from '../../../../charts/compare';

export const metadata: Metadata = { title: 'Compare' };

export default async function Page({ params, searchParams }: { params: Promise<{ id: string }>; searchParams: Promise<CompareQuery> }) {
  return <Compare kind="machine" id={(await params).id} query={await searchParams} />;
}
