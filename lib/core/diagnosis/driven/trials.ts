/** Small builders of bench tests. */

import type { Test } from '../types';
import { seatWords } from './driven-parts';
import { certain, type Harm, type Hears, hearing, slip, suffers, type Trial } from './scenes';

export type Outcomes = Test['outcomes'];
/** `{ good: '< 1 Ω', open: 'OL' }` as outcomes, in that order. */
export const outcomesOf = <K extends string>(labels: Record<K, string>): { id: K; label: string }[] =>
  (Object.keys(labels) as K[]).map((id) => ({ id, label: labels[id] }));

/** A test of which exactly one outcome is predicted, from the harms that it hears. */
export function trialOf<D extends string, K extends string>(
  test: Omit<Test, 'outcomes'> & { labels: Record<K, string>; hears: Hears<D>; error?: number; offered?: boolean },
  predicted: (harms: readonly Harm<D>[]) => K,
): Trial<D> {
  const { labels, error = slip, offered = true, ...rest } = test;
  const outcomes = outcomesOf(labels);
  return { ...rest, outcomes, offered, shows: (harms) => certain(outcomes, predicted(harms), error) };
}

/** Eyes and a magnifier miss more than a meter does (from memory). */
export const eyes = 0.1;
/** Looking at an element: something to see when a fault has left its mark on it. */
export const inspection = <D extends string>(
  test: Omit<Test, 'outcomes' | 'power' | 'hazard'> & { sound: string; bad: string },
  mark: D,
  elements: readonly string[],
): Trial<D> => {
  const { sound, bad, ...rest } = test;
  const hears = hearing(elements, mark);
  const trial = trialOf<D, 'sound' | 'bad'>({ ...rest, power: 'off', hazard: 0, labels: { sound, bad }, hears, error: eyes }, (harms) =>
    elements.some((e) => suffers(harms, mark, e)) ? 'bad' : 'sound',
  );
  return { ...trial, inspects: elements };
};

/** Joint and terminal of one position, by eye. */
export const connectorLooks = <D extends string>(pin: string, mark: D): Trial<D>[] => [
  inspection(
    {
      id: `look-joint ${pin}`,
      title: `Mains plug out: magnifier and raking light on the joint of ${pin}, move the pin gently. Good: no ring, nothing moves.`,
      minutes: 3,
      sound: 'sound',
      bad: 'ring crack or loose',
    },
    mark,
    [`joint ${pin}`],
  ),
  inspection(
    {
      id: `look-terminal ${pin}`,
      title: `Mains plug out: draw the plug and look at ${seatWords(pin)}, tug the wire. Good: bright spring, white housing, wire firm.`,
      minutes: 2,
      sound: 'sound',
      bad: 'dark, brown or loose',
    },
    mark,
    [`terminal ${pin}`],
  ),
];
