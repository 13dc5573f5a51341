/** What the index keeps of a page for lists and results, beside its words and facts. Derived; rebuilt whenever the page changes. */

import { faultName } from '@/lib/core/diagnosis/classes';
import { type JobSigns, jobSigns } from '@/lib/notebook/job-state';
import type { EvaluatedPage, EvaluatedWidget, Progress } from '@/lib/notebook/types';
import { family } from '@/lib/notebook/widget-state';
import type { FixEntry } from '@/lib/store/types';
import type { FactKind, WidgetState } from '@/lib/widgets/definition';
import type { Model as ProofModel } from '@/lib/widgets/proof-test/definition';

export interface IndexRecord {
  by: string; // who the fix record names
  on: string; // its day, or empty
  minutes: number | null;
  cause: string; // in words
  place: string;
  excerpt: string;
  wires: string[]; // for the loom: first the fix record's circuits
  progress: Progress[];
  fixes: FixEntry[]; // every fix record with a cause, for the club's count of proven fixes
  job: JobSigns;
}

const longest = 240;
const shown = 4; // wires in a loom
const words = (state: WidgetState, key: string) => (typeof state[key] === 'string' ? (state[key] as string).trim() : '');
const short = (text: string) => {
  if (text.length <= longest) return text;
  const space = text.lastIndexOf(' ', longest);
  return `${text.slice(0, space > 0 ? space : longest)} …`;
};

const said: FactKind[] = ['symptom', 'text', 'fault', 'circuit'];

/** What a search looks for words in: the prose, and what the widgets say in words of symptom, circuits, cause and remedy. */
export const searchedText = ({ text, facts }: EvaluatedPage): string =>
  [text, ...facts.filter((f) => said.includes(f.kind)).map((f) => f.label)].join('\n');

export function recordOf(page: EvaluatedPage): IndexRecord {
  const fix = page.widgets.find((w) => w.kind === 'fix-record')?.state ?? {};
  const cause = words(fix, 'cause');
  const fixes = fixesOf(page);
  return {
    by: words(fix, 'by'),
    on: words(fix, 'on'),
    minutes: typeof fix.minutes === 'number' ? fix.minutes : null,
    cause: cause ? faultName(cause) : '',
    place: words(fix, 'place'),
    excerpt: short([words(fix, 'symptom'), words(fix, 'remedy')].filter(Boolean).join('. ') || page.body),
    wires: page.facts
      .filter((f) => f.kind === 'wire')
      .map((f) => f.value)
      .slice(0, shown),
    progress: page.progress.map(({ label, done, of }) => ({ label, done, of })),
    fixes,
    job: jobSigns(page, fixes.length > 0 && fixes.every((f) => f.proved)),
  };
}

function fixesOf({ widgets }: EvaluatedPage): FixEntry[] {
  return widgets
    .filter((w) => w.kind === 'fix-record' && words(w.state, 'cause') !== '')
    .map(({ state }) => {
      const circuits = family<unknown>(state, 'circuit').flatMap(([number, on]) => (on === true ? [number] : []));
      return {
        cause: words(state, 'cause'),
        outcome: words(state, 'outcome') || 'open',
        on: dayOf(words(state, 'on')),
        circuits,
        proved: words(state, 'proof') !== '' || widgets.some((w) => provedBy(w, circuits)),
      };
    });
}

/** A proof test that reached its level; one of another circuit proves nothing here. */
function provedBy({ kind, model }: EvaluatedWidget, circuits: string[]): boolean {
  if (kind !== 'proof-test' || model === null) return false;
  const { proof, what } = model as ProofModel;
  const reached = proof.state === 'proved' || proof.state === 'held';
  return reached && (what === '' || circuits.length === 0 || circuits.includes(what));
}

/** A day that the calendar has; empty when it is none. */
function dayOf(words: string): string {
  const time = /^(19|20)\d\d-\d\d-\d\d$/.test(words) ? Date.parse(words) : Number.NaN;
  return !Number.isNaN(time) && new Date(time).toISOString().startsWith(words) ? words : '';
}

/** A page is open until every fix record on it has an outcome; one that is being watched is back in service. Notes are never open. */
export function stateOf(page: EvaluatedPage, machine: string | null): 'open' | 'mended' {
  if (!machine) return 'mended';
  const outcomes = page.widgets.filter((w) => w.kind === 'fix-record').map((w) => w.state.outcome);
  return outcomes.length > 0 && outcomes.every((o) => o === 'mended' || o === 'watching' || o === 'not-found') ? 'mended' : 'open';
}
