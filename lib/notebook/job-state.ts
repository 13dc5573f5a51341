/** What state a job is in, and why: derived from its page, the stock and what was said of it. */
import { faultName } from '@/lib/core/diagnosis/classes';
import { tally } from '@/lib/core/parts';
import type { Catalogue, Need, Reserved, Stock } from '@/lib/core/parts/schema';
import { needsOf } from './needs';
import type { EvaluatedPage } from './types';

export const jobStates = [
  'set aside',
  'reported',
  'looking',
  'found',
  'waiting for parts',
  'mending',
  'to prove',
  'proved',
  'written up',
] as const;
export type JobState = (typeof jobStates)[number];

/** What a page tells of its job; the indexer keeps it, so that lists need not read pages. */
export interface JobSigns {
  tools: number; // lookups, finders and tests that somebody put on the page
  cause: string; // id of the fault class that the fix record names
  place: string;
  remedy: string;
  mended: boolean; // every fix record has an outcome
  proved: boolean;
  ticks: { done: number; of: number }; // steps of its connector plans
  needs: { part: string; pieces: number }[]; // of the catalogue
}

const looks = ['circuit-lookup', 'fault-finder'];
const closed = ['mended', 'watching', 'not-found'];
const words = (value: unknown) => (typeof value === 'string' ? value.trim() : '');

/** `proved`: a fix record of the page holds its proof, as the index says it. */
export function jobSigns(page: EvaluatedPage, proved: boolean): JobSigns {
  const fixes = page.widgets.filter((w) => w.kind === 'fix-record');
  const fix = fixes.find((w) => words(w.state.cause) !== '') ?? fixes[0];
  const plans = page.widgets.filter((w) => w.kind === 'connector-plan').map((w) => w.id);
  const steps = page.progress.filter((p) => plans.includes(p.widget));
  const pieces = new Map<string, number>();
  for (const { part, quantity } of needsOf(page)) if (part !== undefined) pieces.set(part, (pieces.get(part) ?? 0) + quantity);
  return {
    tools: page.widgets.filter((w) => looks.includes(w.kind) && Object.keys(w.state).length > 0).length,
    cause: words(fix?.state.cause),
    place: words(fix?.state.place),
    remedy: words(fix?.state.remedy),
    mended: fixes.length > 0 && fixes.every((w) => closed.includes(words(w.state.outcome))),
    proved,
    ticks: { done: steps.reduce((n, s) => n + s.done, 0), of: steps.reduce((n, s) => n + s.of, 0) },
    needs: [...pieces].map(([part, count]) => ({ part, pieces: count })),
  };
}

export interface JobContext {
  catalogue: Catalogue;
  stock: Stock;
  reserved: Reserved; // seen from the page
  aside: string | null; // why it was set aside
  writtenUp: boolean; // a copy of its write-up was sent, not before it was proved
}

/** The state, and the sentence that says why. What comes later in a job's life wins over what comes earlier. */
export function jobState(signs: JobSigns, { catalogue, stock, reserved, aside, writtenUp }: JobContext): { state: JobState; why: string } {
  const { mended, proved, cause, place, remedy, ticks, tools } = signs;
  if (mended && proved && writtenUp) return { state: 'written up', why: 'Its write-up was sent.' };
  if (mended && proved) return { state: 'proved', why: 'The fix record has an outcome and its proof.' };
  if (aside !== null) return { state: 'set aside', why: aside };
  if (mended) return { state: 'to prove', why: 'The fix record has an outcome, and no proof yet.' };
  if (ticks.of > 0 && ticks.done === ticks.of) return { state: 'to prove', why: `All ${ticks.of} steps of the plan are ticked.` };
  const needs: Need[] = signs.needs.map(({ part, pieces }) => ({ part, name: part, quantity: pieces, from: 'page' }));
  const short = tally(needs, catalogue, stock, reserved).lines.filter((l) => l.short > 0);
  if (short.length > 0) return { state: 'waiting for parts', why: `Short of ${short.map((l) => `${l.short} × ${l.name}`).join(', ')}.` };
  if (ticks.done > 0) return { state: 'mending', why: `${ticks.done} of ${ticks.of} steps of the plan are ticked.` };
  if (remedy) return { state: 'mending', why: 'The fix record says what is done about it.' };
  if (cause) return { state: 'found', why: `The fix record names the cause: ${[faultName(cause), place].filter(Boolean).join(' at ')}.` };
  if (tools > 0) return { state: 'looking', why: 'Something was looked up or tried on its page.' };
  return { state: 'reported', why: 'Nothing was looked up on its page yet.' };
}
