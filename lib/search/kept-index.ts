/**
 * The index of this process, true to the database: filled once, beside the work; before each search it takes in what was written since.
 * That is one small query, and whatever another server has written is found too.
 */

import type { Chart } from '@/lib/core/chart/types';
import type { Lexicon } from '@/lib/core/symptom/lexicon';
import { Slips } from '@/lib/core/symptom/slips';
import type { Speech } from '@/lib/core/symptom/speech';
import { stemOf } from '@/lib/core/symptom/tokens';
import { type Database, database } from '@/lib/store/database';
import { type IndexRow, indexAfter, indexHead, indexSince } from '@/lib/store/facts';
import { allCharts } from './charts';
import { FixIndex } from './fix-index';
import { indexedOf, toldBy } from './indexed';
import { knownWords, lexiconFor, speechOf } from './language';
import { clubGroups } from './thesaurus';

const atOnce = 500; // rows read together
const sliceMs = 12; // of reading, then others have their turn
const leastTaught = 50; // fixes; fewer teach nothing
const mostTaught = 1000;
const fewPages = 5000; // a search waits for the first filling when there are no more
const patienceMs = 2500; // otherwise that long, then it answers from what there is

type Groups = readonly string[][];
interface Kept {
  groups: string; // of words, that it was read with
  database: Database;
  speech: Speech | null; // what was learnt of the club's way of speaking
  written: Map<string, string>; // page → the transaction that wrote what the index has of it
  index: FixIndex;
  from: string;
  filled: boolean;
  pages: number; // in the database when filling began
  filling: Promise<void>;
  following: Promise<void>;
}
export interface Ready {
  index: FixIndex;
  charts: Chart[];
  groups: Groups;
  lexicon: Lexicon;
  slips: Slips;
  /** Of how many pages it is; null when of all. */
  building: { done: number; of: number } | null;
}

// The framework bundles routes apart from the server and from each other: one index for all of them.
const place = globalThis as { [key: symbol]: Kept | undefined };
const key = Symbol.for('fettlebook.search');

/** The index, with everything in it that was committed before the call. Rejects when the database does not answer. */
export async function readyIndex(): Promise<Ready> {
  const language = Promise.all([allCharts(), clubGroups()]);
  const before = place[key];
  const ready = before?.filled && before.database === database();
  const [[charts, groups]] = await Promise.all([language, ready && follow(before, language)]);
  const known = place[key];
  const kept = known?.database === database() && known.groups === JSON.stringify(groups) ? known : begin(groups);
  await Promise.race([kept.filling, late(kept)]);
  if (kept.filled && !(ready && kept === before)) await follow(kept, language);
  return {
    index: kept.index,
    charts,
    groups,
    lexicon: lexiconFor(charts, groups, kept.speech),
    slips: slipsOf(kept.index, charts, groups),
    building: kept.filled ? null : { done: kept.index.size, of: kept.pages },
  };
}

/** Resolves when a search should wait no longer; for a small notebook never. */
async function late(kept: Kept): Promise<void> {
  await new Promise((resolve) => setTimeout(resolve, patienceMs).unref());
  if (kept.pages <= fewPages) await kept.filling;
}

/** Forgets it: the next search fills a new one. For another language of the club, and for tests. */
export function forgetIndex() {
  place[key] = undefined;
}

function begin(groups: Groups): Kept {
  const kept: Kept = {
    groups: JSON.stringify(groups),
    database: database(),
    speech: null,
    written: new Map(),
    index: new FixIndex(),
    from: '0',
    filled: false,
    pages: 0,
    filling: Promise.resolve(),
    following: Promise.resolve(),
  };
  kept.filling = fill(kept, groups);
  kept.filling.catch(() => {
    if (place[key] === kept) place[key] = undefined; // the next search begins anew
  });
  place[key] = kept;
  return kept;
}

async function fill(kept: Kept, groups: Groups) {
  const charts = await allCharts();
  const head = await indexHead();
  kept.from = head.from;
  kept.pages = head.pages;
  kept.speech = await learn(charts, groups);
  for (let rows = await indexAfter('', atOnce); rows.length > 0; ) {
    const next = indexAfter(rows.at(-1)!.page, atOnce); // the database looks for them meanwhile
    [rows] = await Promise.all([next, takeIn(kept, rows, charts, groups)]);
  }
  kept.filled = true;
}

/** From the first pages by their ids, which are in no order of time or place; null when they are too few. */
async function learn(charts: Chart[], groups: Groups): Promise<Speech | null> {
  const lexicon = lexiconFor(charts, groups, null);
  const byMachine = chartsById(charts);
  const told = (await indexAfter('', mostTaught)).flatMap((row) => toldBy(row, byMachine.get(row.machine ?? '') ?? null, lexicon) ?? []);
  if (told.length < leastTaught) return null;
  const steps = speechOf(told, lexicon);
  const slice = new Slice();
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
    await slice.rest();
  }
}

/** Takes in what was written before the call, after whatever is being taken in. */
function follow(kept: Kept, language: Promise<[Chart[], Groups]>): Promise<void> {
  kept.following = kept.following
    .catch(() => {})
    .then(async () => {
      const [{ rows, from }, [charts, groups]] = await Promise.all([indexSince(kept.from), language]);
      await takeIn(kept, rows, charts, groups);
      kept.from = from;
    });
  return kept.following;
}

async function takeIn({ index, written, speech }: Kept, rows: IndexRow[], charts: Chart[], groups: Groups) {
  const lexicon = lexiconFor(charts, groups, speech);
  const byMachine = chartsById(charts);
  const slice = new Slice();
  for (const row of rows) {
    if (written.get(row.page) === row.written) continue;
    written.set(row.page, row.written);
    if (row.removed) index.remove(row.page);
    else index.put(indexedOf(row, byMachine.get(row.machine ?? '') ?? null, lexicon));
    await slice.rest();
  }
}

const chartsById = (charts: Chart[]) => new Map(charts.map((chart) => [chart.machine.id, chart]));

/** Work in pieces: others have their turn between. */
class Slice {
  private began = performance.now();
  async rest() {
    if (performance.now() - this.began < sliceMs) return;
    await new Promise((resolve) => setImmediate(resolve));
    this.began = performance.now();
  }
}

let slips: { charts: Chart[]; size: number; slips: Slips } | null = null;
const commonFrom = 2; // a word on one page alone may be a slip itself

/** What words are known; made anew when charts change or the index has grown by a tenth. */
function slipsOf(index: FixIndex, charts: Chart[], groups: Groups): Slips {
  if (
    slips &&
    slips.charts.length === charts.length &&
    charts.every((c, n) => c === slips?.charts[n]) &&
    index.size <= slips.size * 1.1 + 10
  )
    return slips.slips;
  const made = new Slips();
  for (const [word, weight] of knownWords(charts, groups)) made.add({ word, weight, fixes: index.count(`w:${stemOf(word)}`) });
  for (const stem of index.stems()) {
    const fixes = index.count(`w:${stem}`);
    if (fixes >= commonFrom) made.add({ word: stem, weight: fixes, fixes });
    else made.know(stem);
  }
  slips = { charts: [...charts], size: index.size, slips: made };
  return made;
}
