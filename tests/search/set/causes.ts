/** Which fault can lie behind what is seen; common practice, no source. Listed more than once: more often. */
import type { FaultClass } from '@/lib/core/diagnosis/classes';
import type { Behaviour, Extent, Kind } from './types';

const table: Record<Kind, Partial<Record<Behaviour, Partial<Record<Extent, readonly FaultClass[]>>>>> = {
  switch: {
    dead: {
      one: ['switch-dirty', 'switch-adjustment', 'switch-broken', 'broken-wire', 'lug-joint', 'diode-absent', 'diode-reversed', 'optic'],
      line: ['worn-contact', 'worn-contact', 'cracked-joint', 'broken-wire', 'driver', 'row-input', 'splice', 'misplaced-plug'],
      bank: ['splice', 'broken-wire', 'worn-contact'],
      everything: ['supply', 'fuse', 'misplaced-plug'],
    },
    sometimes: {
      one: ['switch-adjustment', 'switch-adjustment', 'switch-dirty', 'lug-joint', 'worn-contact'],
      line: ['worn-contact', 'worn-contact', 'cracked-joint', 'splice'],
      bank: ['splice', 'worn-contact'],
      everything: ['supply', 'cracked-joint'],
    },
    always: { one: ['switch-adjustment', 'short', 'mechanical'], line: ['short', 'row-input', 'driver'] },
    twice: { one: ['switch-adjustment', 'mechanical', 'switch-dirty'] },
    another: { one: ['diode-bypassed', 'diode-bypassed', 'short'], line: ['driver', 'short'] },
    wrong: { one: ['exchanged-wires', 'diode-reversed'], line: ['exchanged-wires', 'misplaced-plug'] },
  },
  load: {
    dead: {
      one: ['broken-wire', 'transistor', 'coil', 'lug-joint'],
      bank: ['fuse', 'broken-wire', 'splice'],
      everything: ['fuse', 'supply', 'misplaced-plug'],
    },
    sometimes: { one: ['lug-joint', 'worn-contact', 'cracked-joint'], everything: ['supply', 'scorched-connector'] },
    always: { one: ['transistor', 'transistor', 'short'] },
    weak: { one: ['coil', 'mechanical', 'mechanical', 'worn-contact'], everything: ['supply', 'scorched-connector'] },
    hot: { one: ['coil', 'transistor', 'mechanical'] },
    wrong: { one: ['exchanged-wires', 'misplaced-plug'] },
  },
  lamp: {
    dead: {
      one: ['lamp', 'lug-joint', 'broken-wire', 'diode-absent'],
      line: ['transistor', 'worn-contact', 'cracked-joint'],
      bank: ['splice', 'broken-wire'],
      everything: ['fuse', 'scorched-connector', 'supply'],
    },
    sometimes: {
      one: ['lamp', 'lug-joint'],
      line: ['cracked-joint', 'worn-contact'],
      bank: ['scorched-connector', 'splice'],
      everything: ['scorched-connector', 'worn-contact'],
    },
    always: { one: ['transistor', 'short'], line: ['transistor'] },
    weak: { one: ['lamp', 'lug-joint'], bank: ['scorched-connector', 'splice'], everything: ['scorched-connector', 'supply'] },
    another: { one: ['diode-bypassed', 'short'] },
    wrong: { one: ['exchanged-wires'] },
    hot: { bank: ['scorched-connector'], everything: ['scorched-connector'] },
  },
};

export const behaviours = (kind: Kind) => Object.keys(table[kind]) as Behaviour[];
export const extents = (kind: Kind, behaviour: Behaviour) => Object.keys(table[kind][behaviour] ?? {}) as Extent[];
export const causes = (kind: Kind, behaviour: Behaviour, extent: Extent): readonly FaultClass[] => table[kind][behaviour]?.[extent] ?? [];

/** Faults that sit at a pin of a board, so that the place of the repair is one. */
export const atPin = new Set<FaultClass>([
  'worn-contact',
  'cracked-joint',
  'scorched-connector',
  'misplaced-plug',
  'exchanged-wires',
  'driver',
  'row-input',
  'transistor',
]);
