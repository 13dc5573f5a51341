/** How the keys of a widget's shared state are told: a table for each kind, and the parts it is made of. */
import type { WidgetState } from '@/lib/widgets/definition';
import { canonical } from './canonical';
import { wordRuns } from './inline';
import type { Line } from './types';

/** Tells what became of one key; a value that is not there is `undefined`. */
export type Teller = (before: unknown, after: unknown) => Line[];
export interface Telling {
  keys?: Readonly<Record<string, Teller>>;
  /** By what stands before the first dot; the teller gets the rest of the key. */
  families?: Readonly<Record<string, (name: string) => Teller>>;
  /** Families whose values each writer counts alone: told together, as how many more or fewer. */
  counters?: Readonly<Record<string, (by: number) => Line[]>>;
}

const line = (words: string): Line[] => [{ words }];
const oneLine = (text: string) => text.replace(/\s+/g, ' ').trim();

/** A value as people read it. */
export function shown(value: unknown): string {
  if (typeof value === 'string') return `“${oneLine(value)}”`;
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  return typeof value === 'number' ? String(value) : canonical(value);
}

/** “Minutes set to 95”, “Minutes changed from 90 to 95”, “Minutes cleared”. An empty text counts as none. */
export const field =
  (label: string, say: (value: unknown) => string = shown): Teller =>
  (before, after) => {
    const [was, is] = [before === '' ? undefined : before, after === '' ? undefined : after];
    if (was === undefined) return is === undefined ? [] : line(`${label} set to ${say(is)}`);
    return line(is === undefined ? `${label} cleared, it was ${say(was)}` : `${label} changed from ${say(was)} to ${say(is)}`);
  };

/** A text: set, cleared, or its words that changed. */
export const text =
  (label: string): Teller =>
  (before, after) =>
    typeof before === 'string' && typeof after === 'string' && before !== '' && after !== ''
      ? [{ words: label, runs: wordRuns(oneLine(before), oneLine(after)) }]
      : field(label)(before, after);

/** Something that is on or off: “46 added”, “46 taken off”. */
export const onOff =
  (on: string, off: string): Teller =>
  (before, after) =>
    (before === true) === (after === true) ? [] : line(after === true ? on : off);

const signed = (value: unknown): string =>
  typeof value === 'object' && value !== null && 'by' in value && typeof value.by === 'string' && value.by !== '' ? ` by ${value.by}` : '';

/** “Ticked ‘Batteries out’ by Ada”. */
export const ticked =
  (what: string): Teller =>
  (before, after) =>
    line(after === undefined ? `Tick taken off ‘${what}’` : `${before === undefined ? 'Ticked' : 'Ticked anew'} ‘${what}’${signed(after)}`);

export const madeBy = signed;
export const tell = line;

/** “12 more presses”, “1 press taken back”. */
export const counted =
  (one: string, many: string) =>
  (by: number): Line[] =>
    by === 0 ? [] : line(`${Math.abs(by)} ${by > 0 ? 'more ' : ''}${Math.abs(by) === 1 ? one : many}${by > 0 ? '' : ' taken back'}`);

/** Keys whose values differ, as people count: `tick.2` before `tick.10`. */
export const changedKeys = (before: WidgetState, after: WidgetState): string[] =>
  [...new Set([...Object.keys(before), ...Object.keys(after)])]
    .filter((key) => canonical(before[key]) !== canonical(after[key]))
    .sort((a, b) => a.localeCompare(b, 'en', { numeric: true }));

const writer = /\.\d{5,10}$/; // the number of a document's client
const isCount = (value: unknown) => value === undefined || Number.isInteger(value);

/** The counter that a key is one writer's part of; null for any other key. */
export const counterOf = (key: string, before: unknown, after: unknown): string | null =>
  writer.test(key) && isCount(before) && isCount(after) ? key.replace(writer, '') : null;

export const number = (value: unknown): number => (typeof value === 'number' ? value : 0);

/** Every change of a state, in words. What the table has no words for is told by key and value; counters are summed over their writers. */
export function tellState(telling: Telling, before: WidgetState, after: WidgetState): Line[] {
  const sums = new Map<string, number>();
  const lines: Line[] = [];
  for (const key of changedKeys(before, after)) {
    const [was, is] = [before[key], after[key]];
    const family = key.slice(0, Math.max(0, key.indexOf('.')));
    const counter = Object.hasOwn(telling.counters ?? {}, family) ? family : counterOf(key, was, is);
    if (counter !== null && isCount(was) && isCount(is)) sums.set(counter, (sums.get(counter) ?? 0) + number(is) - number(was));
    else lines.push(...tellerOf(telling, key, family)(was, is));
  }
  const counts = [...sums].flatMap(([counter, by]) => {
    const own = telling.counters && Object.hasOwn(telling.counters, counter) ? telling.counters[counter] : undefined;
    return own ? own(by) : counted('count', 'counts')(by).map(({ words }) => ({ words: `${counter}: ${words}` }));
  });
  return [...counts, ...lines];
}

function tellerOf({ keys = {}, families = {} }: Telling, key: string, family: string): Teller {
  const own = Object.hasOwn(keys, key) ? keys[key] : undefined;
  const shared = Object.hasOwn(families, family) ? families[family] : undefined;
  return own ?? shared?.(key.slice(family.length + 1)) ?? field(key);
}
