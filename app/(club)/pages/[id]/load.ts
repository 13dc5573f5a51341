/** Everything a page's screens start from. */
import { notFound } from 'next/navigation';
import { indexChart } from '@/lib/core/chart';
import { picturesOfChart } from '@/lib/core/chart/pinned';
import { live } from '@/lib/live/house';
import { contentOf } from '@/lib/notebook/content';
import { evaluatePage } from '@/lib/notebook/evaluate';
import type { PageContent } from '@/lib/notebook/types';
import { recordFor } from '@/lib/search/record-for';
import { getChartParts } from '@/lib/store/machines';
import { getPage } from '@/lib/store/pages';
import { getCatalogue, stock } from '@/lib/store/parts';
import { removedAmong, removedOn } from '@/lib/store/picture-holders';
import { reservedFor } from '@/lib/store/stock';
import type { PageRow } from '@/lib/store/types';

export async function loadPage(id: string) {
  const page = await getPage(id);
  if (!page) notFound();
  const content = await live().read(id, contentOf);
  return { page, content, ...(await evaluatedAs(page, content)) };
}

/** A page's content computed with the charts, catalogue and stock of today. */
export async function evaluatedAs(page: PageRow, content: PageContent) {
  const [parts, catalogue, onHand, reserved, record, ownRemoved] = await Promise.all([
    page.machineId ? getChartParts(page.machineId) : null,
    getCatalogue(),
    stock(),
    reservedFor(page.id),
    recordFor(page.id),
    removedOn(page.id),
  ]);
  const onChart = parts ? await removedAmong([parts.machine, parts.design].flatMap(picturesOfChart)) : [];
  const removed = [...ownRemoved, ...onChart];
  const chart = parts ? indexChart(parts.machine, parts.design) : null;
  const evaluated = evaluatePage(content, { chart, catalogue: catalogue.catalogue, stock: onHand, reserved, record, removed });
  return { parts, catalogue: catalogue.catalogue, stock: onHand, reserved, record, removed, chart, evaluated };
}
