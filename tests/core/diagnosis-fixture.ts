/** A small invented machine of driven things: two chained coils on one tap, one on another, a matrix of lamps, one lamp string. */
import { indexChart } from '@/lib/core/chart';
import { boardDesign, machine } from '@/lib/core/chart/schema';
import { type Field, weigh } from '@/lib/core/diagnosis/weigh';

const large = { pitchMm: 3.96, plating: 'tin', termination: 'crimp' };
const lampLine = (axis: 'column' | 'row', n: number) => ({
  id: `lamp-${axis}.${n}`,
  kind: `lamp-${axis}`,
  number: n,
  colour: 'red',
  awg: 20,
  part: `Q${axis === 'column' ? 4 : 5}${n}`,
});

const design = boardDesign.parse({
  format: 'fettlebook-board/1',
  id: 'SB-2',
  name: 'SB-2',
  boards: [{ designator: 'A2', name: 'Driver board' }],
  matrix: { polarity: 'strobe-low', idle: 'float', rowSupplyVolts: 12, thresholdRatio: 0.42 },
  nets: [
    ...[1, 2, 3, 4].map((n) => ({ id: `load.${n}`, kind: 'load', number: n, colour: 'brown', awg: 20, part: `Q${n}` })),
    { id: 'supply.coil', kind: 'supply', colour: 'orange', awg: 18, volts: 52, supply: 'dc', storedMicrofarads: 4700, name: 'Coil supply' },
    ...[1, 2, 3].flatMap((n) => [lampLine('column', n), lampLine('row', n)]),
    { id: 'illumination.1', kind: 'illumination', colour: 'white', awg: 18, volts: 6.3, supply: 'ac', amps: 5 },
    { id: 'illumination.1-back', kind: 'illumination', colour: 'white/black', awg: 18, volts: 6.3, supply: 'ac', amps: 5 },
  ],
  headers: [
    {
      ...large,
      id: 'A2J1',
      positions: 2,
      pins: [
        { position: 1, net: 'supply.coil' },
        { position: 2, net: 'supply.coil' },
      ],
    },
    { ...large, id: 'A2J3', positions: 4, pins: [1, 2, 3, 4].map((n) => ({ position: n, net: `load.${n}` })) },
    {
      ...large,
      id: 'A2J5',
      positions: 6,
      pins: [1, 2, 3].flatMap((n) => [
        { position: n, net: `lamp-column.${n}` },
        { position: n + 3, net: `lamp-row.${n}` },
      ]),
    },
    {
      ...large,
      id: 'A2J7',
      positions: 3,
      pins: [
        { position: 1, net: 'illumination.1' },
        { position: 2, net: 'illumination.1' },
        { position: 3, net: 'illumination.1-back' },
      ],
    },
  ],
});
const coil = (n: number, more = {}) => ({
  number: `L${n}`,
  name: `Coil ${n}`,
  kind: 'coil',
  net: `load.${n}`,
  supply: 'supply.coil',
  fuse: 'F3',
  ohms: 10,
  ...more,
});

/** L1 → L2 → L3 on one tap of the supply, L4 on the other. `ring`: L3 is fed from both. */
export const drivenChart = (ring = false, led = false) =>
  indexChart(
    machine.parse({
      format: 'fettlebook-machine/1',
      id: 'lantern-regatta-3',
      name: 'Lantern Regatta',
      sort: 'pinball',
      design: 'SB-2',
      numbering: { order: 'column-row' },
      switches: [],
      loads: [coil(1), coil(2), coil(3), coil(4, { windings: 'double' })],
      lamps: [1, 2, 3].flatMap((column) =>
        [1, 2, 3].map((row) => ({ column, row, name: `Lamp ${column}${row}`, kind: led ? 'led' : 'tungsten' })),
      ),
      illumination: [{ id: 'G1', name: 'Playfield', net: 'illumination.1', back: 'illumination.1-back', lamps: 12, fuse: 'F10' }],
      chains: [
        { tap: 'A2J1-1', steps: [{ load: 'L1' }, { load: 'L2' }, { load: 'L3' }] },
        { tap: 'A2J1-2', steps: ring ? [{ load: 'L4' }, { load: 'L3' }] : [{ load: 'L4' }] },
      ],
    }),
    design,
  );

/** Elements, likeliest first. */
export const likeliest = (field: Field, count = 4): string[] =>
  [...weigh(field, []).elements]
    .sort((a, b) => b[1] - a[1])
    .slice(0, count)
    .map(([element]) => element);

/** A hypothetical fault for a hand-made enumeration: what it does and how often. */
export interface Cause<S> {
  element: string;
  weight: number;
  ways: readonly { does: readonly S[]; share: number }[];
}
/** P(element at fault) over none, singles and pairs, straight from the definition: w_0 = 0.05 Σw, ρ = 0.5 / Σw, no common cause. */
export function enumerated<S>(
  causes: readonly Cause<S>[],
  chance: (does: readonly S[]) => number,
): { none: number; elements: Map<string, number> } {
  const sum = causes.reduce((total, c) => total + c.weight, 0);
  const given = (of: readonly Cause<S>[]): number => {
    let scenes: { does: readonly S[]; share: number }[] = [{ does: [], share: 1 }];
    for (const cause of of)
      scenes = scenes.flatMap((a) => cause.ways.map((b) => ({ does: [...a.does, ...b.does], share: a.share * b.share })));
    return scenes.reduce((total, s) => total + s.share * chance(s.does), 0);
  };
  const stories: { of: readonly Cause<S>[]; mass: number }[] = [{ of: [], mass: 0.05 * sum * given([]) }];
  for (const [i, a] of causes.entries()) {
    stories.push({ of: [a], mass: a.weight * given([a]) });
    for (const b of causes.slice(i + 1))
      if (a.element !== b.element) stories.push({ of: [a, b], mass: (0.5 / sum) * a.weight * b.weight * given([a, b]) });
  }
  const total = stories.reduce((t, s) => t + s.mass, 0);
  const elements = new Map<string, number>();
  for (const { of, mass } of stories) for (const { element } of of) elements.set(element, (elements.get(element) ?? 0) + mass / total);
  return { none: (stories[0]?.mass ?? 0) / total, elements };
}
