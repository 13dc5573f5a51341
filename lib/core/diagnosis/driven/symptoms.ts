/** What people see loads, lamps and strings do, in plain words, for a list to choose from. The first of each is what they should do. */
import { type LampSymptom, lampSymptoms as lampIds } from './lamp-table';
import { symptoms as loadIds, type Symptom } from './load-table';
import { type StringSymptom, stringSymptoms as stringIds } from './string-table';

const labelled = <T extends string>(ids: readonly T[], words: Record<T, string>): { id: T; label: string }[] =>
  ids.map((id) => ({ id, label: words[id] }));

export const loadSymptoms: readonly { id: Symptom; label: string }[] = labelled(loadIds, {
  fires: 'works as it should',
  dead: 'does nothing',
  weak: 'is weak',
  'always on': 'is on by itself',
  'fuse blows': 'blows its fuse',
  'driver dies again': 'killed its new driver',
});

export const lampSymptoms: readonly { id: LampSymptom; label: string }[] = labelled(lampIds, {
  'lit when commanded': 'lights when it should',
  dark: 'stays dark',
  'always lit': 'is always lit',
  'too bright': 'is too bright',
  'dim/flicker': 'is dim or flickers',
  'glows faintly': 'glows faintly when it should be off',
  'lit with another': 'lights together with another',
});

export const stringSymptoms: readonly { id: StringSymptom; label: string }[] = labelled(stringIds, {
  lit: 'is lit as it should be',
  dark: 'is dark',
  dim: 'is dim',
  flickers: 'flickers',
  'dark beyond one socket': 'is dark from one socket on',
  'dim beyond one socket': 'is dim from one socket on',
  'one dark': 'has one lamp dark',
  'fuse blows': 'blows its fuse',
});
