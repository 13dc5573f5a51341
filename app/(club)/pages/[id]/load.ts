/** Everything a page's screens start from. */
import { notFound } from 'next/navigation';
import { indexChart } from '@/lib/core/chart';
import { live } from '@/lib/live/house';
import { contentOf } from '@/lib/notebook/content';
import { evaluatePage } from '@/lib/notebook/evaluate';
import { fixCounts } from '@/lib/store/fixes';
import { getChartParts } from '@/lib/store/machines';
import { getPage } from '@/lib/store/pages';
import { getCatalogue, stock } from '@/lib/store/parts';

export async function loadPage(id: string) {
  const page = await getPage(id);
  if (!page) notFound();
  const [parts, catalogue, onHand, record, content] = await Promise.all([
    page.machineId ? getChartParts(page.machineId) : null,
    getCatalogue(),
    stock(),
    fixCounts(id),
    live().read(id, contentOf),
  ]);
  const chart = parts ? indexChart(parts.machine, parts.design) : null;
  const evaluated = evaluatePage(content, { chart, catalogue: catalogue.catalogue, stock: onHand, record });
  return { page, parts, catalogue: catalogue.catalogue, stock: onHand, record, content, chart, evaluated };
}
