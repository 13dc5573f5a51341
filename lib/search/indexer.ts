/**
 * Keeps the index true to the pages: a page is evaluated again a moment after its log grew; when a chart changed, dependents.ts queues
 * its pages. What the index holds can always be rebuilt from the log and the charts.
 */
import { sql } from 'drizzle-orm';
import { indexChart } from '@/lib/core/chart';
import { live } from '@/lib/live/house';
import { contentOf } from '@/lib/notebook/content';
import { evaluatePage } from '@/lib/notebook/evaluate';
import type { EvaluatedPage } from '@/lib/notebook/types';
import { getSetting, setSetting } from '@/lib/store/club';
import { database } from '@/lib/store/database';
import { databaseTime, writeIndex } from '@/lib/store/facts';
import { getChartParts } from '@/lib/store/machines';
import { getPage } from '@/lib/store/pages';
import { getCatalogue, stock } from '@/lib/store/parts';
import { holdShown } from '@/lib/store/pictures';
import { reservedFor } from '@/lib/store/stock';
import { recordOf, searchedText, stateOf } from './record';
import { recordFor } from './record-for';

/** Raised whenever the same page would be indexed otherwise than before; every page is then indexed again at the next start. */
const indexVersion = '5';
const settleMs = 300; // a burst of edits is indexed once
const catchUpMs = 30_000;
/** A time of change is that of the begin of a commit, which others see when it has ended; charts have the time of the server's clock. */
const slack = sql`interval '10 seconds'`;
const catchUpLock = 7_305_003; // beside those of lib/store

/** Evaluates one page and replaces its words and facts. */
export async function indexNow(id: string): Promise<void> {
  const page = await getPage(id);
  if (!page) return;
  const readAt = await databaseTime();
  const [parts, { catalogue }, onHand, reserved, record, content] = await Promise.all([
    page.machineId ? getChartParts(page.machineId) : null,
    getCatalogue(),
    stock(),
    reservedFor(id),
    recordFor(id),
    live().read(id, contentOf),
  ]);
  const chart = parts ? indexChart(parts.machine, parts.design) : null;
  const evaluated = evaluatePage(content, { chart, catalogue, stock: onHand, reserved, record });
  const entry = {
    title: evaluated.title,
    body: searchedText(evaluated),
    state: stateOf(evaluated, page.machineId),
    record: recordOf(evaluated),
    facts: evaluated.facts,
    machine: page.machineId,
    design: parts?.design.id ?? null,
  };
  await writeIndex(id, entry, readAt);
  await holdShown(id, picturesOf(evaluated));
}

/** Hashes of the pictures that a page's widgets show. */
const picturesOf = ({ widgets }: EvaluatedPage): string[] =>
  widgets.flatMap((w) => (w.error ? [] : (w.definition?.pictures?.(w.model) ?? [])));

/** Pages of which the index may be older than the page or its chart; all of them when the index was made by other rules. */
async function stalePages(): Promise<string[]> {
  const asBefore = (await getSetting('index.version')) === indexVersion;
  const { rows } = await database().execute<{ id: string }>(
    sql`select p.id from page p
        left join page_index i on i.page = p.id left join machine m on m.id = p.machine left join board_design d on d.id = m.design
        where p.removed_at is null
          and (${!asBefore} or i.page is null or i.indexed_at < greatest(p.changed_at, m.changed_at, d.changed_at) + ${slack})`,
  );
  return rows.map((row) => row.id);
}

export function startIndexer() {
  const waiting = new Map<string, NodeJS.Timeout>();
  const failed = new Set<string>(); // reported, and not tried again before their next change
  let last: Promise<void> = Promise.resolve();
  let closed = false;
  let next: NodeJS.Timeout | undefined;

  const tryPage = (page: string) =>
    indexNow(page).catch((error) => {
      failed.add(page);
      console.error(`Page ${page} could not be indexed; it is tried again at its next change.`, error);
    });
  const run = (page: string) => {
    waiting.delete(page);
    failed.delete(page);
    last = last.then(() => tryPage(page));
  };

  /** Of several servers one does it; the others leave it to that one. */
  async function catchUp() {
    await database().transaction(async (tx) => {
      const { rows } = await tx.execute<{ mine: boolean }>(sql`select pg_try_advisory_xact_lock(${catchUpLock}::bigint) as mine`);
      if (!rows[0]?.mine) return;
      for (const page of await stalePages()) {
        if (closed) return;
        if (!failed.has(page)) await tryPage(page);
      }
      await setSetting('index.version', indexVersion);
    });
  }
  const catchUpLater = () => {
    next = setTimeout(() => {
      last = last.then(catchUp).catch((error) => console.error('Could not look for pages to index; it is tried again later.', error));
      void last.then(() => closed || catchUpLater());
    }, catchUpMs);
    next.unref();
  };
  catchUpLater();

  return {
    /** The page's log grew. */
    changed(page: string) {
      if (!waiting.has(page)) waiting.set(page, setTimeout(run, settleMs, page));
    },
    /** Indexes what changed while nobody was looking, such as just before a crash of this server or another. Also done now and then. */
    catchUp,
    async close() {
      closed = true;
      clearTimeout(next);
      for (const [page, timer] of waiting) {
        clearTimeout(timer);
        run(page);
      }
      await last;
    },
  };
}
