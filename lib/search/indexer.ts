/**
 * Keeps the index true to the pages: a page is evaluated again a moment after its log grew, and every page of a machine when its chart
 * changed. What the index holds can always be rebuilt from the log and the charts.
 */
import { sql } from 'drizzle-orm';
import { indexChart } from '@/lib/core/chart';
import { live } from '@/lib/live/house';
import { contentOf } from '@/lib/notebook/content';
import { evaluatePage } from '@/lib/notebook/evaluate';
import { getSetting, setSetting } from '@/lib/store/club';
import { database } from '@/lib/store/database';
import { pagesOfChart, writeIndex } from '@/lib/store/facts';
import { fixCounts } from '@/lib/store/fixes';
import { getChartParts } from '@/lib/store/machines';
import { getPage } from '@/lib/store/pages';
import { getCatalogue, stock } from '@/lib/store/parts';
import { recordOf, searchedText, stateOf } from './record';

/** Raised whenever the same page would be indexed otherwise than before; every page is then indexed again at the next start. */
const indexVersion = '3';
const settleMs = 300; // a burst of edits is indexed once

/** Evaluates one page and replaces its words and facts. */
export async function indexNow(id: string): Promise<void> {
  const page = await getPage(id);
  if (!page) return;
  const [parts, { catalogue }, onHand, record, content] = await Promise.all([
    page.machineId ? getChartParts(page.machineId) : null,
    getCatalogue(),
    stock(),
    fixCounts(id),
    live().read(id, contentOf),
  ]);
  const chart = parts ? indexChart(parts.machine, parts.design) : null;
  const evaluated = evaluatePage(content, { chart, catalogue, stock: onHand, record });
  await writeIndex(id, {
    title: evaluated.title,
    body: searchedText(evaluated),
    state: stateOf(evaluated, page.machineId),
    record: recordOf(evaluated),
    facts: evaluated.facts,
    machine: page.machineId,
    design: parts?.design.id ?? null,
  });
}

/** Indexes every page of a machine again, after its chart changed. */
export async function indexMachine(machine: string): Promise<number> {
  const pages = await pagesOfChart(machine);
  for (const page of pages) await indexNow(page);
  return pages.length;
}

export function startIndexer() {
  const waiting = new Map<string, NodeJS.Timeout>();
  let last: Promise<void> = Promise.resolve();
  const run = (page: string) => {
    waiting.delete(page);
    last = last
      .then(() => indexNow(page))
      .catch((error) => console.error(`Page ${page} could not be indexed; it is tried again at its next change.`, error));
  };
  return {
    /** The page's log grew. */
    changed(page: string) {
      if (!waiting.has(page)) waiting.set(page, setTimeout(run, settleMs, page));
    },
    /** Indexes what changed while nobody was looking, such as just before a crash. */
    async catchUp() {
      const asBefore = (await getSetting('index.version')) === indexVersion;
      const { rows } = await database().execute<{ id: string }>(
        sql`select p.id from page p left join page_index i on i.page = p.id
            where p.removed_at is null and (${!asBefore} or i.page is null or i.indexed_at < p.changed_at + interval '10 seconds')`,
      );
      for (const { id } of rows) await indexNow(id);
      if (!asBefore) await setSetting('index.version', indexVersion);
    },
    async close() {
      for (const [page, timer] of waiting) {
        clearTimeout(timer);
        run(page);
      }
      await last;
    },
  };
}
