/** The one place where the benches call our search: puts repairs into the notebook's own tables and asks what the search page asks. */
import { indexChart } from '@/lib/core/chart';
import type { Chart } from '@/lib/core/chart/types';
import { evaluatePage } from '@/lib/notebook/evaluate';
import { forgetIndex, readyIndex } from '@/lib/search/kept-index';
import { recordOf, searchedText, stateOf } from '@/lib/search/record';
import { clueAnswers, searchFixes } from '@/lib/search/search';
import type { Database } from '@/lib/store/database';
import { putDesign, putMachine } from '@/lib/store/machines';
import type { Fleet } from '../search/set/charts';
import { pageOf } from '../search/set/page';
import type { Repair } from '../search/set/types';

export interface Ours {
  /** Ids of repairs, best first. */
  search(query: string, limit: number): Promise<string[]>;
  /** What is answered on top: wires, pins and numbers of the circuits named. */
  clue(query: string): Promise<{ machine: string; id: string; wires: string[]; pins: string[] }[]>;
  buildSeconds: number; // reading the pages' index from the database and indexing it
  /** Memory that the index in the process holds, by letting it go: the last thing to ask. NaN without `--expose-gc`. */
  bytes(): number;
}

const batch = 500;

export async function openOurs(fleet: Fleet, repairs: readonly Repair[], database: Database): Promise<Ours> {
  for (const design of fleet.designs) await putDesign(design, null, null);
  for (const { chart } of fleet.machines) await putMachine(chart, null, null);
  const charts = new Map<string, Chart>();
  for (const { chart } of fleet.machines) {
    const design = fleet.designs.find((d) => d.id === chart.design);
    if (design) charts.set(chart.id, indexChart(chart, design));
  }
  const began = performance.now();
  for (let at = 0; at < repairs.length; at += batch) await index(repairs.slice(at, at + batch), charts, database);
  const rowsMs = performance.now() - began; // computing the pages, as the indexer does at each change
  await database.$client.query('analyze');
  forgetIndex();
  const start = performance.now();
  while ((await readyIndex()).building);
  const buildSeconds = (performance.now() - start) / 1000; // what a server does at its start
  console.log(`Computing and writing the pages took ${(rowsMs / 1000).toFixed(1)} s.`);
  return {
    search: async (query, limit) => (await searchFixes(query, { limit })).results.map((r) => r.page),
    clue: async (query) => (await clueAnswers(query)).map(({ machineId, id, wires, pins }) => ({ machine: machineId, id, wires, pins })),
    buildSeconds,
    bytes() {
      const held = memory();
      forgetIndex();
      return held - memory();
    },
  };
}

function memory(): number {
  if (!globalThis.gc) return Number.NaN;
  globalThis.gc();
  const { heapUsed, arrayBuffers } = process.memoryUsage();
  return heapUsed + arrayBuffers;
}

/** What the indexer writes for a page, for many pages at once. */
async function index(repairs: readonly Repair[], charts: ReadonlyMap<string, Chart>, { $client }: Database) {
  const rows = repairs.map((repair) => {
    const chart = charts.get(repair.machine) ?? null;
    const page = evaluatePage(pageOf(repair), {
      chart,
      catalogue: { format: 'fettlebook-parts/1', currency: 'GBP', parts: [] },
      stock: {},
      record: {},
    });
    return {
      repair,
      page,
      body: searchedText(page),
      state: stateOf(page, repair.machine),
      record: recordOf(page),
      design: chart?.design.id,
    };
  });
  const column = <T>(of: (row: (typeof rows)[number]) => T) => rows.map(of);
  const ids = column((r) => r.repair.id);
  await $client.query('insert into page (id, machine, day) select * from unnest($1::text[], $2::text[], $3::date[])', [
    ids,
    column((r) => r.repair.machine),
    column((r) => r.repair.on),
  ]);
  await $client.query(
    'insert into page_index (page, title, body, state, record) select * from unnest($1::text[], $2::text[], $3::text[], $4::text[], $5::jsonb[])',
    [ids, column((r) => r.page.title), column((r) => r.body), column((r) => r.state), column((r) => JSON.stringify(r.record))],
  );
  await $client.query('insert into page_chart (page, machine, design) select * from unnest($1::text[], $2::text[], $3::text[])', [
    ids,
    column((r) => r.repair.machine),
    column((r) => r.design),
  ]);
  const facts = rows.flatMap((r) => r.page.facts.map((fact) => ({ id: r.repair.id, ...fact })));
  await $client.query(
    'insert into page_fact (page, kind, value, label) select * from unnest($1::text[], $2::text[], $3::text[], $4::text[]) on conflict do nothing',
    [facts.map((f) => f.id), facts.map((f) => f.kind), facts.map((f) => f.value), facts.map((f) => f.label)],
  );
}
