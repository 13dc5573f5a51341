/** What was seen of each switch, together, in words. */
import { netTitle } from '@/lib/core/chart/names';
import type { Chart } from '@/lib/core/chart/types';
import { family } from '@/lib/notebook/widget-state';
import type { WidgetState } from '../../definition';
import type { Count, HandCount, Held, Rest } from './state';

/** How a switch behaved, for its mark in a drawing. */
export type Mark = 'answers' | 'some' | 'never' | 'stuck' | 'odd' | 'untried';
export interface Reading {
  number: string;
  name: string;
  known: boolean; // false: the chart has no such switch
  lines: string; // "column 4, row 6"
  hand: Count | null;
  ball: Count | null;
  others: string[];
  rest: Rest | null;
  mark: Mark;
  words: string; // "missed 5 of 20; by ball answers, 10 of 10"
  short: string; // the first of it, for a drawing
}

const lower = (text: string) => text.charAt(0).toLowerCase() + text.slice(1);

export function countWords({ presses, missed }: Count): string {
  if (presses === 0) return 'not pressed yet';
  if (missed === 0) return `answers, ${presses} of ${presses}`;
  return missed === presses ? `never, 0 of ${presses}` : `missed ${missed} of ${presses}`;
}

function markOf({ hand, ball, others, rest }: Pick<Reading, 'hand' | 'ball' | 'others' | 'rest'>): Mark {
  if (rest === 'active') return 'stuck';
  const presses = (hand?.presses ?? 0) + (ball?.presses ?? 0);
  const missed = (hand?.missed ?? 0) + (ball?.missed ?? 0);
  if (presses === 0) return 'untried';
  if (missed === presses) return 'never';
  if (missed > 0) return 'some';
  return others.length > 0 ? 'odd' : 'answers';
}

function partsOf({ hand, ball, others, rest }: Pick<Reading, 'hand' | 'ball' | 'others' | 'rest'>): string[] {
  return [
    hand ? countWords(hand) : '',
    ball ? `by ball ${countWords(ball)}` : '',
    others.length > 0 ? `brings ${others.join(', ')}` : '',
    rest === 'active' ? 'on by itself' : rest === 'inactive' ? 'quiet when left alone' : '',
  ].filter(Boolean);
}

/** One reading a switch, in the order of their numbers: a line that was changed stays where it is. */
export function readingsOf(state: WidgetState, chart: Chart | null): Reading[] {
  const hand = new Map(family<HandCount>(state, 'seen'));
  const ball = new Map(family<Count>(state, 'ball'));
  const rest = new Map(family<Rest>(state, 'rest'));
  const numbers = [...new Set([...hand.keys(), ...ball.keys(), ...rest.keys()])];
  return numbers
    .sort((a, b) => a.localeCompare(b, 'en', { numeric: true }))
    .map((number): Reading => {
      const circuit = chart?.circuit.get(number);
      const seen = {
        hand: hand.get(number) ?? null,
        ball: ball.get(number) ?? null,
        others: hand.get(number)?.with ?? [],
        rest: rest.get(number) ?? null,
      };
      return {
        number,
        name: circuit?.name ?? '',
        known: circuit !== undefined,
        lines: chart && circuit ? circuit.nets.map((net) => lower(netTitle(chart, net))).join(', ') : '',
        ...seen,
        mark: markOf(seen),
        words: partsOf(seen).join('; '),
        short: (rest.get(number) === 'active' ? partsOf(seen).at(-1) : partsOf(seen)[0]) ?? '',
      };
    });
}

export interface HeldReading extends Held {
  id: string;
}
export const heldOf = (state: WidgetState): HeldReading[] => family<Held>(state, 'hold').map(([id, hold]) => ({ id, ...hold }));
export const heldWords = ({ held, shown }: Held) =>
  `${held.join(', ')} held: ${shown.length > 0 ? `${shown.join(', ')} show` : 'none shows'}`;

/** Switches that do something wrong. */
export const misbehaves = ({ mark, others }: Reading) => ['some', 'never', 'stuck', 'odd'].includes(mark) || others.length > 0;

/** All presses, by hand and by ball. */
export const pressesOf = (readings: readonly Reading[]) =>
  readings.reduce((sum, { hand, ball }) => sum + (hand?.presses ?? 0) + (ball?.presses ?? 0), 0);
