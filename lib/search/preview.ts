/** Before a chart is saved: which pages would mean something else. Nothing is written. */
import { indexChart } from '@/lib/core/chart';
import type { BoardDesign, Machine } from '@/lib/core/chart/schema';
import type { Chart } from '@/lib/core/chart/types';
import { live } from '@/lib/live/house';
import { contentOf } from '@/lib/notebook/content';
import { evaluatePage } from '@/lib/notebook/evaluate';
import { pagesOfChart, pagesOfDesign } from '@/lib/store/facts';
import { getChartParts, getDesign } from '@/lib/store/machines';
import { getPage } from '@/lib/store/pages';
import { getCatalogue, stock } from '@/lib/store/parts';
import { type FactChanges, factChanges } from './meaning';
import { recordFor } from './record-for';

export interface PageChange extends FactChanges {
  id: string;
  title: string;
}
export interface Preview {
  pages: number; // that were computed from this chart
  changed: PageChange[];
}
interface Charts {
  before: Chart;
  after: Chart;
}

/** A machine as it would be; a new one changes no page, and neither does one whose board design is unknown. */
export async function previewMachine(machine: Machine): Promise<Preview> {
  const [parts, design] = await Promise.all([getChartParts(machine.id), getDesign(machine.design)]);
  if (!parts || !design) return { pages: 0, changed: [] };
  const charts = { before: indexChart(parts.machine, parts.design), after: indexChart(machine, design.design) };
  return inTurn(pagesOfChart(machine.id), () => Promise.resolve(charts));
}

/** A board design as it would be, for the pages of every machine that has it. */
export async function previewDesign(design: BoardDesign): Promise<Preview> {
  const known = new Map<string, Charts | null>();
  return inTurn(pagesOfDesign(design.id), async (id) => {
    const kept = known.get(id);
    if (kept !== undefined) return kept;
    const parts = await getChartParts(id);
    const charts = parts && { before: indexChart(parts.machine, parts.design), after: indexChart(parts.machine, design) };
    known.set(id, charts);
    return charts;
  });
}

let last: Promise<unknown> = Promise.resolve();

/** One preview at a time in a process, and between its pages everything else has its turn. */
function inTurn(pages: Promise<string[]>, chartsOf: (machine: string) => Promise<Charts | null>): Promise<Preview> {
  const mine = last.then(async () => {
    const [ids, { catalogue }, onHand] = await Promise.all([pages, getCatalogue(), stock()]);
    const changed: PageChange[] = [];
    for (const id of ids) {
      await new Promise(setImmediate);
      const page = await getPage(id);
      const charts = page?.machineId ? await chartsOf(page.machineId) : null;
      if (!charts) continue;
      const [record, content] = await Promise.all([recordFor(id), live().read(id, contentOf)]);
      const under = (chart: Chart) => evaluatePage(content, { chart, catalogue, stock: onHand, record });
      const now = under(charts.after);
      const changes = factChanges(under(charts.before).facts, now.facts);
      if (changes) changed.push({ id, title: now.title, ...changes });
    }
    return { pages: ids.length, changed };
  });
  last = mine.catch(() => undefined);
  return mine;
}
