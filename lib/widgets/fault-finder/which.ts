/** Which switch or thing somebody means by what they typed: a number, a name, a clue. */
import { bareCells } from '@/lib/core/chart/bare-cells';
import type { Chart } from '@/lib/core/chart/types';
import { lookup } from '@/lib/core/lookup';
import { nearest } from '@/lib/core/lookup/words';
import type { Subject, Thing } from './model/subjects';

export type Which<T> = { ok: true; is: T } | { ok: false; message: string };

const firstWord = (typed: string) => /^[^\s,;]+/.exec(typed.trim())?.[0] ?? '';
const refused = (message: string) => ({ ok: false as const, message });

/** A number first; else whatever the circuit lookup makes of it, when that is one switch. */
export function whichSwitch(chart: Chart, typed: string): Which<string> {
  const number = chart.circuit.get(firstWord(typed))?.number;
  if (number) return { ok: true, is: number };
  if (typed.trim() === '') return refused('Write a switch number or a name.');
  const found = lookup(chart, typed);
  if (found.outcome === 'one' && found.circuit) return { ok: true, is: found.circuit.circuit.number };
  if (found.outcome !== 'several') return refused(`This chart has no switch “${typed.trim()}”. Write its number.`);
  const circuits = found.candidates.filter((c) => c.kind === 'circuit');
  const [only] = circuits;
  if (only && circuits.length === 1) return { ok: true, is: only.id };
  const titles = circuits.slice(0, 4).map((c) => c.title);
  return refused(titles.length > 0 ? `“${typed.trim()}” fits ${titles.join(', ')}. Write the number.` : 'Write the number of the switch.');
}

const wordsIn = (typed: string) => typed.split(/[\s,;]+/).filter(Boolean);

/** Several switch numbers, parted by spaces or commas; refuses the first that the chart does not have. */
export const whichSwitches = (chart: Chart, typed: string): Which<string[]> =>
  listOf(wordsIn(typed), (word) => chart.circuit.get(word)?.number);

/** Numbers that the test shows: those of switches, and those of cells without one. */
export function whichShown(chart: Chart, typed: string): Which<string[]> {
  const bare = new Set(bareCells(chart).map(({ number }) => number));
  return listOf(wordsIn(typed), (word) => chart.circuit.get(word)?.number ?? (bare.has(word) ? word : undefined));
}

function listOf(words: readonly string[], numberOf: (word: string) => string | undefined): Which<string[]> {
  const strange = words.find((word) => numberOf(word) === undefined);
  if (strange) return refused(`This chart has no switch ${strange}.`);
  return { ok: true, is: [...new Set(words.flatMap((word) => numberOf(word) ?? []))] };
}

/** By id or by the whole of its line in the list; else the only one whose name begins with it, or has its words, misspelt or not. */
export function whichThing({ things, noun }: Subject, typed: string): Which<Thing> {
  const words = typed.trim().toLowerCase();
  if (words === '') return refused(`Choose one: ${noun.toLowerCase()}.`);
  const exact = things.find((t) => t.id.toLowerCase() === words || `${t.id} ${t.name}`.toLowerCase() === words);
  if (exact) return { ok: true, is: exact };
  const begun = things.filter((t) => t.name.toLowerCase().startsWith(words) || t.id.toLowerCase() === firstWord(words));
  const near = begun.length > 0 ? begun : spelled(things, words);
  const [only] = near;
  if (only && near.length === 1) return { ok: true, is: only };
  return refused(
    near.length > 1
      ? `“${typed.trim()}” fits ${near
          .map((t) => `${t.id} ${t.name}`)
          .slice(0, 4)
          .join(', ')}.`
      : `This chart has no “${typed.trim()}”.`,
  );
}

const wordsOf = (text: string) =>
  text
    .toLowerCase()
    .split(/[^a-z0-9]+/)
    .filter(Boolean);

function spelled(things: readonly Thing[], typed: string): Thing[] {
  const all = [...new Set(things.flatMap((t) => wordsOf(t.name)))];
  const meant = wordsOf(typed).map((word) => (all.includes(word) ? word : nearest(word, all)));
  return meant.length > 0 && meant.every((word) => word !== null)
    ? things.filter((t) => meant.every((word) => wordsOf(t.name).includes(word ?? '')))
    : [];
}
