/** A small invented chart for tests: design SB-2 with one machine on it. Figures are made up; only the forms are the trade's. */
import { indexChart } from '@/lib/core/chart';
import { type BoardDesign, boardDesign, type Machine, machine } from '@/lib/core/chart/schema';

const columnColours = [
  'violet/white',
  'violet/orange',
  'violet/black',
  'violet/yellow',
  'violet/pink',
  'violet/green',
  'violet/tan',
  'violet/red',
];
const rowColours = ['grey/blue', 'grey/red', 'grey/black', 'grey/tan', 'grey/green', 'grey/orange', 'grey/white', 'grey/brown'];
const columnPins = [1, 3, 4, 5, 6, 7, 8, 9];
const rowPins = [1, 2, 3, 5, 6, 7, 8, 9];
const lines = (kind: string, colours: string[], part: (n: number) => string) =>
  colours.map((colour, i) => ({ id: `${kind}.${i + 1}`, kind, number: i + 1, colour, awg: 24, insulationMm: 1.3, part: part(i + 1) }));
const small = { pitchMm: 2.54, plating: 'tin', termination: 'insulation-displacement' };
const large = { pitchMm: 3.96, plating: 'tin', termination: 'crimp' };
const twoGrounds = [
  { awg: 22, insulationMm: 1.4 },
  { awg: 22, insulationMm: 1.4 },
];

export const fixtureDesign: BoardDesign = boardDesign.parse({
  format: 'fettlebook-board/1',
  id: 'SB-2',
  name: 'SB-2 switch board set',
  boards: [
    { designator: 'A1', name: 'Power board' },
    { designator: 'A2', name: 'Driver board' },
    { designator: 'A3', name: 'Switch board' },
    { designator: 'A4', name: 'Lamp board' },
  ],
  matrix: { polarity: 'strobe-low', idle: 'float', rowSupplyVolts: 12, thresholdRatio: 0.42, strobe: 'column' },
  nets: [
    ...lines('switch-column', columnColours, () => 'U14'),
    ...lines('switch-row', rowColours, (n) => (n < 5 ? 'U8' : 'U9')),
    ...lines('direct', ['pink/white', 'pink/black'], () => 'U11'),
    ...lines('lamp-column', ['yellow/brown', 'yellow/red'], (n) => `Q2${n}`),
    ...lines('lamp-row', ['red/brown', 'red/black'], (n) => `Q3${n}`),
    { id: 'load.1', kind: 'load', number: 1, colour: 'brown/black', awg: 20, part: 'Q1', volts: 52, supply: 'dc', amps: 0.9 },
    { id: 'load.2', kind: 'load', number: 2, colour: 'brown/red', awg: 20, part: 'Q2', volts: 52, supply: 'dc', amps: 0.9 },
    {
      id: 'supply.coil',
      kind: 'supply',
      name: 'Coil supply',
      colour: 'orange',
      awg: 18,
      insulationMm: 2.1,
      volts: 52,
      supply: 'dc',
      amps: 4,
      storedMicrofarads: 4700,
      fuse: 'F3, 4 A slow',
    },
    {
      id: 'illumination.1',
      kind: 'illumination',
      name: 'Illumination string 1',
      colour: 'white/green',
      awg: 18,
      volts: 6.3,
      supply: 'ac',
      amps: 5,
    },
    {
      id: 'illumination.1-back',
      kind: 'illumination',
      name: 'Illumination string 1, back',
      colour: 'white',
      awg: 18,
      volts: 6.3,
      supply: 'ac',
      amps: 5,
    },
    { id: 'ground', kind: 'ground', name: 'Ground', colour: 'black', awg: 22, insulationMm: 1.4 },
    { id: 'ground.power', kind: 'ground', name: 'Power ground', colour: 'black/white', awg: 18, insulationMm: 2.1 },
  ],
  headers: [
    {
      ...large,
      id: 'A1J2',
      name: 'Supplies',
      positions: 9,
      keys: [3],
      pins: [
        { position: 1, net: 'supply.coil' },
        { position: 2, net: 'supply.coil' },
        { position: 4, net: 'ground.power' },
        { position: 5, net: 'ground.power' },
        { position: 6, net: 'illumination.1' },
        { position: 7, net: 'illumination.1' },
        { position: 8, net: 'illumination.1-back' },
        { position: 9, net: 'illumination.1-back' },
      ],
    },
    {
      ...large,
      id: 'A2J3',
      name: 'Coils',
      positions: 5,
      keys: [4],
      pins: [
        { position: 1, net: 'load.1' },
        { position: 2, net: 'load.2' },
        { position: 5, net: 'supply.coil' },
      ],
    },
    {
      ...small,
      id: 'A3J4',
      name: 'Switch rows',
      positions: 11,
      keys: [4],
      pins: [
        ...rowPins.map((position, i) => ({ position, net: `switch-row.${i + 1}` })),
        { position: 10, net: 'direct.2' },
        { position: 11, net: 'ground', wires: twoGrounds },
      ],
    },
    {
      ...small,
      id: 'A3J5',
      name: 'Cabinet switches',
      positions: 6,
      keys: [3],
      pins: [
        { position: 1, net: 'switch-column.1' },
        { position: 2, net: 'switch-row.6' },
        { position: 4, net: 'direct.1' },
        { position: 5, net: 'ground' },
      ],
    },
    {
      ...small,
      id: 'A3J6',
      name: 'Switch columns',
      positions: 9,
      keys: [2],
      pins: columnPins.map((position, i) => ({ position, net: `switch-column.${i + 1}` })),
    },
    {
      ...large,
      id: 'A4J2',
      name: 'Lamps',
      positions: 6,
      keys: [5],
      pins: [
        { position: 1, net: 'lamp-column.1' },
        { position: 2, net: 'lamp-column.2' },
        { position: 3, net: 'lamp-row.1' },
        { position: 4, net: 'lamp-row.2' },
      ],
    },
  ],
});

const names: [number, number, string, string, string?][] = [
  [1, 1, 'Coin left', 'coin door', 'microswitch'],
  [1, 2, 'Coin right', 'coin door', 'microswitch'],
  [1, 6, 'Cash door', 'cabinet floor, behind the cash box', 'microswitch'],
  [2, 2, 'Left outlane', 'playfield, lower left'],
  [2, 3, 'Left sling', 'playfield, lower left, behind the rubber'],
  [2, 6, 'Tide gate', 'playfield, upper middle', 'microswitch'],
  [3, 1, 'Trough 1', 'under the apron', 'microswitch'],
  [3, 2, 'Trough 2', 'under the apron', 'microswitch'],
  [3, 6, 'Boat lock', 'playfield, upper right', 'microswitch'],
  [4, 1, 'Kicker left', 'playfield, middle'],
  [4, 2, 'Kicker right', 'playfield, middle'],
  [4, 4, 'Right sling', 'playfield, lower right, behind the rubber'],
  [4, 5, 'Right outlane', 'playfield, lower right'],
  [4, 6, 'Spinner', 'playfield, right orbit'],
  [4, 7, 'Right return', 'playfield, lower right'],
  [4, 8, 'Drop far', 'playfield, far right'],
  [5, 2, 'Drop mid', 'playfield, drop bank'],
  [5, 6, 'Lane right', 'playfield, top lanes'],
  [6, 2, 'Buoy 2', 'playfield, right bank'],
  [6, 6, 'Right orbit', 'playfield, far upper right', 'microswitch'],
  [7, 5, 'Beacon', 'back box', 'opto'],
  [7, 6, 'Lighthouse', 'playfield, lighthouse', 'opto'],
  [8, 3, 'Café bell', 'playfield, upper left'],
  [8, 6, 'Jetty lane', 'playfield, left, under the jetty'],
];
const run = (tap: string, ...switches: string[]) => ({ tap, steps: switches.map((s) => ({ switch: s })) });
const branch = (...switches: string[]) => switches.map((s) => ({ switch: s }));

export const fixtureMachine: Machine = machine.parse({
  format: 'fettlebook-machine/1',
  id: 'lantern-regatta-3',
  name: 'Lantern Regatta',
  unit: 'no. 3',
  sort: 'solid-state pinball, four flippers',
  design: 'SB-2',
  numbering: { order: 'column-row' },
  switches: names.map(([column, row, name, location, device]) => ({ column, row, name, location, ...(device && { device }) })),
  direct: [
    { number: 'D1', net: 'direct.1', name: 'Start button', location: 'front of the cabinet' },
    { number: 'D2', net: 'direct.2', name: 'Service key', location: 'coin door, inside', device: 'microswitch' },
  ],
  lamps: [
    { column: 1, row: 1, name: 'Lantern 1' },
    { column: 1, row: 2, name: 'Spinner lit' },
    { column: 2, row: 1, name: 'Jetty arrow' },
  ],
  loads: [
    { number: 'L1', name: 'Ball out', kind: 'coil', net: 'load.1', supply: 'supply.coil', fuse: 'F3, 4 A slow', ohms: 9.4 },
    { number: 'L2', name: 'Left sling', kind: 'coil', net: 'load.2', supply: 'supply.coil', fuse: 'F3, 4 A slow', ohms: 12.3 },
  ],
  illumination: [
    { id: 'G1', name: 'Lower playfield', net: 'illumination.1', back: 'illumination.1-back', lamps: 19, fuse: 'F10, 6.3 A slow' },
  ],
  chains: [
    run('A3J4-1', '11', '31', '41'),
    run('A3J4-2', '12', '22', '32', '42', '52', '62'),
    run('A3J4-3', '23', '83'),
    run('A3J4-5', '44'),
    run('A3J4-6', '45', '75'),
    { tap: 'A3J4-7', steps: [{ splice: 'S2', branches: [branch('16'), branch('46', '26', '36', '56', '66', '76')] }] },
    run('A3J4-8', '47'),
    run('A3J4-9', '48'),
    run('A3J4-10', 'D2'),
    run('A3J5-1', '11', '16'),
    run('A3J5-2', '86'),
    run('A3J5-4', 'D1'),
    run('A3J6-1', '12'),
    run('A3J6-3', '22', '23', '26'),
    run('A3J6-4', '31', '32', '36'),
    run('A3J6-5', '41', '42', '44', '45', '46', '47', '48'),
    run('A3J6-6', '52', '56'),
    run('A3J6-7', '62', '66'),
    run('A3J6-8', '75', '76'),
    run('A3J6-9', '83', '86'),
  ],
  asFound: [
    {
      id: 'right-sling-row',
      on: '2024-05-03',
      by: 'Wen Halloran',
      place: { switch: '44', net: 'switch-row.4' },
      manual: 'Row 4 at the switch, grey/tan',
      here: 'The last run to the switch is pink/yellow',
      wire: 'pink/yellow',
      why: 'Burnt run replaced with what was in the drawer that night.',
    },
    {
      id: 'coil-supply-joint',
      on: '2026-01-09',
      by: 'Tomas Reyle',
      place: { pin: 'A1J2-1', net: 'supply.coil' },
      manual: 'Coil supply through the housing at 1 and 2',
      here: 'Joined past the connector at 1 with a crimped splice',
      why: 'Scorched position, until the housing is renewed.',
    },
  ],
});

export const fixtureChart = indexChart(fixtureMachine, fixtureDesign);
