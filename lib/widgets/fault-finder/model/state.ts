/** The shared state of a fault finder: what was seen at switches, results of tests, what happened before. Flat keys, read here and nowhere else. */
import * as z from 'zod/mini';
import type { Observation, Result } from '@/lib/core/diagnosis';
import { family, stateSchema, tick, words, yes } from '@/lib/notebook/widget-state';
import type { WidgetState } from '../../definition';
import { aboutIds, symptomFamilies } from './subjects';

export interface Count {
  presses: number;
  missed: number;
}
export interface HandCount extends Count {
  with?: string[]; // numbers that came up beside it
}
export interface Held {
  held: string[];
  shown: string[];
}
/** The result of a test: which outcome, who saw it and when. */
export interface Saw {
  saw: string;
  by: string;
  at: string;
}
export type Rest = 'active' | 'inactive';

export const mostPresses = 9999;
const whole = z
  .int('write a whole number')
  .check(z.minimum(0, 'write a number of 0 or more'), z.maximum(mostPresses, `write ${mostPresses} or less`));
const numbers = z.array(words, { error: 'write a list of switch numbers' });
const notMore = <T extends Count>() =>
  z.refine<T>(({ missed, presses }) => missed <= presses, 'it cannot miss more often than it was pressed');
const counts = z.object({ presses: whole, missed: whole }, { error: 'write {"presses": number, "missed": number}' });

export const schema = stateSchema(
  { about: z.enum(aboutIds, { error: `write ${aboutIds.join(', ')}` }), threes: yes },
  {
    seen: z.extend(counts, { with: z.optional(numbers) }).check(notMore<HandCount>()),
    ball: counts.check(notMore<Count>()),
    rest: z.enum(['active', 'inactive'], { error: 'write active or inactive' }),
    hold: z.object({ held: numbers, shown: numbers }, { error: 'write {"held": numbers, "shown": numbers}' }),
    test: z.extend(tick, { saw: words }),
    done: yes,
    ...symptomFamilies,
  },
);

/** What was seen at switches, as the engine wants it. */
export function observationsOf(state: WidgetState): Observation[] {
  const presses = (name: 'seen' | 'ball') =>
    family<HandCount>(state, name).map(
      ([number, { presses, missed, with: others = [] }]): Observation => ({
        kind: 'presses',
        number,
        presses,
        missed,
        how: name === 'ball' ? 'ball' : 'hand',
        others,
      }),
    );
  return [
    ...presses('seen'),
    ...presses('ball'),
    ...family<Rest>(state, 'rest').map(([number, reads]): Observation => ({ kind: 'rest', number, reads })),
    ...family<Held>(state, 'hold').map(([, { held, shown }]): Observation => ({ kind: 'hold', held, shown })),
  ];
}

/** Tests that were answered, the latest last. Times are compared as moments: they carry the zone of whoever wrote them. */
export const answeredTests = (state: WidgetState): (Saw & { test: string })[] =>
  family<Saw>(state, 'test')
    .map(([test, saw]) => ({ test, ...saw }))
    .sort((a, b) => Date.parse(a.at) - Date.parse(b.at) || (a.test < b.test ? -1 : 1));

export const resultsOf = (state: WidgetState): Result[] => answeredTests(state).map(({ test, saw }) => ({ test, saw }));

export const doneOf = (state: WidgetState): string[] => family<boolean>(state, 'done').flatMap(([id, on]) => (on ? [id] : []));
