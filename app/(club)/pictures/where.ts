/** Where a picture is shown, and whose history holds it. */
import { picturesOf } from '@/lib/archive/pictures-in';
import { picturesOfChart } from '@/lib/core/chart/pinned';
import { live } from '@/lib/live/house';
import { contentOf } from '@/lib/notebook/content';
import { getChart } from '@/lib/store/chart-photos';
import type { ChartKind } from '@/lib/store/charts';
import { getLetterhead } from '@/lib/store/letterhead';
import { holdersOf } from '@/lib/store/picture-holders';

export interface Where {
  href: string;
  title: string;
  /** Now; else only an earlier state of it does. */
  shown: boolean;
}

export async function whereShown(hash: string): Promise<{ places: Where[]; removedPages: number; sentCopies: number }> {
  const { pages, machines, designs, removedPages, sentCopies, letterhead } = await holdersOf(hash);
  const logo = letterhead ? (await getLetterhead()).logo : null;
  const onChart = async (kind: ChartKind, id: string) => {
    const found = await getChart(kind, id);
    return found !== null && picturesOfChart(found.chart).includes(hash);
  };
  const places = await Promise.all([
    ...pages.map(async ({ id, title }) => ({
      href: `/pages/${id}`,
      title,
      shown: picturesOf(await live().read(id, contentOf)).includes(hash),
    })),
    ...machines.map(async ({ id, title }) => ({ href: `/machines/${id}`, title, shown: await onChart('machine', id) })),
    ...designs.map(async ({ id }) => ({ href: `/designs/${id}`, title: `Board design ${id}`, shown: await onChart('design', id) })),
    ...(letterhead ? [{ href: '/club#letterhead', title: 'The letterhead', shown: logo?.picture === hash }] : []),
  ]);
  return { places, removedPages, sentCopies };
}
