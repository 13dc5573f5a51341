/** What a fault finder can be about beside a switch: loads, lamps and strings of lamps. What each is seen to do, by id, in words for a button. */
import * as z from 'zod/mini';
import type { Chart } from '@/lib/core/chart/types';
import { lampSymptoms, loadSymptoms, stringSymptoms } from '@/lib/core/diagnosis';
import { family } from '@/lib/notebook/widget-state';
import type { WidgetState } from '../../definition';

export const aboutIds = ['switch', 'load', 'lamp', 'string'] as const;
export type About = (typeof aboutIds)[number];
export const abouts: readonly { id: About; name: string }[] = [
  { id: 'switch', name: 'A switch' },
  { id: 'load', name: 'A coil, flasher or motor' },
  { id: 'lamp', name: 'A lamp of the matrix' },
  { id: 'string', name: 'A string of lamps' },
];
export type Driven = Exclude<About, 'switch'>;
export const aboutOf = (state: WidgetState): About => aboutIds.find((id) => id === state.about) ?? 'switch';

const millivolts = z
  .number({ error: 'write millivolts as a number' })
  .check(z.minimum(0, 'write 0 or more'), z.maximum(100_000, 'write millivolts'));
const oneOf = (list: readonly { id: string }[]) => {
  const ids = list.map(({ id }) => id);
  return z.enum(ids, { error: `write ${ids.join(', ')}` });
};
/** `load.<number>`, `lamp.<number>`, `line.column.<n>`, `string.<id>`: a symptom; `drop.<pin>`: millivolts. */
export const symptomFamilies = {
  load: oneOf(loadSymptoms),
  lamp: oneOf(lampSymptoms),
  line: oneOf(lampSymptoms),
  string: oneOf(stringSymptoms),
  drop: millivolts,
};

interface Choice {
  id: string;
  label: string; // "does nothing"
  fine?: true; // nothing wrong with it
}
/** The first of each list is what it should do. */
const choices = (list: readonly { id: string; label: string }[]): Choice[] =>
  list.map((choice, k) => ({ ...choice, ...(k === 0 && { fine: true as const }) }));

export interface Thing {
  key: string; // of shared state: `load.L5`, `line.column.3`
  id: string; // as printed
  name: string;
}
export interface Subject {
  noun: string;
  things: readonly Thing[]; // to choose from
  choices: readonly Choice[];
}

/** What can be chosen of this kind in a chart, and what it can be seen to do. */
export function subjectOf(chart: Chart, about: Driven): Subject {
  if (about === 'load')
    return {
      noun: 'Coil, flasher or motor',
      things: chart.loads.map(({ number, name }) => ({ key: `load.${number}`, id: number, name })),
      choices: choices(loadSymptoms),
    };
  if (about === 'string')
    return {
      noun: 'String',
      things: chart.illumination.map(({ id, name }) => ({ key: `string.${id}`, id, name })),
      choices: choices(stringSymptoms),
    };
  const lines = (axis: 'column' | 'row') =>
    [...new Set(chart.lamps.map((lamp) => lamp[axis]))]
      .sort((a, b) => a - b)
      .map((n) => ({ key: `line.${axis}.${n}`, id: `${axis} ${n}`, name: `all lamps of ${axis} ${n}` }));
  return {
    noun: 'Lamp, column or row',
    things: [...chart.lamps.map(({ number, name }) => ({ key: `lamp.${number}`, id: number, name })), ...lines('column'), ...lines('row')],
    choices: choices(lampSymptoms),
  };
}

export interface Shown extends Thing {
  shows: Choice;
}

/** What was seen of this kind, in the order of the chart; what the chart does not know stands last, by its number. */
export function shownOf(state: WidgetState, about: Driven, { things, choices: can }: Subject): Shown[] {
  const families = about === 'lamp' ? ['lamp', 'line'] : [about];
  const place = new Map(things.map((thing, k) => [thing.key, k]));
  return families
    .flatMap((name) => family<string>(state, name).map(([id, shows]) => ({ key: `${name}.${id}`, id, shows })))
    .map(({ key, id, shows }): Shown => {
      const thing = things[place.get(key) ?? -1] ?? { key, id, name: '' };
      return { ...thing, shows: can.find((c) => c.id === shows) ?? { id: shows, label: shows } };
    })
    .sort((a, b) => (place.get(a.key) ?? things.length) - (place.get(b.key) ?? things.length));
}

/** Millivolts across a terminal, as measured, by pin. */
export const dropsOf = (state: WidgetState): [string, number][] => family<number>(state, 'drop');

/** Which kinds this chart has. */
export const aboutsIn = (chart: Chart): About[] =>
  aboutIds.filter((id) =>
    id === 'switch'
      ? chart.circuits.length > 0
      : id === 'load'
        ? chart.loads.length > 0
        : id === 'lamp'
          ? chart.lamps.length > 0
          : chart.illumination.length > 0,
  );
