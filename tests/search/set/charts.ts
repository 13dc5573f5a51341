/** Invented board designs and machines with whole charts, in the product's own format, and the devices on them with their roles. */
import { readDesign, readMachine } from '@/lib/core/chart';
import type { BoardDesign, Machine } from '@/lib/core/chart/schema';
import { type Random, random } from './random';
import type { Device, Kind, Line, Role, Side } from './types';

export interface Fleet {
  designs: BoardDesign[];
  machines: { chart: Machine; title: string; devices: Device[] }[];
}
export interface Names {
  designs: readonly string[];
  machines: readonly string[];
  banks: readonly (readonly string[])[]; // for each machine: words for its drop bank, targets and top lanes
}

const bases = ['green', 'white', 'violet', 'blue', 'yellow', 'grey'];
const stripes = ['brown', 'red', 'orange', 'yellow', 'green', 'blue', 'violet', 'grey', 'white', 'black'];
const lineCount = 8;
const loadCount = 16;

const must = <T>(read: { ok: true; value: T } | { ok: false; findings: unknown }): T => {
  if (!read.ok) throw new Error(`the invented chart does not read: ${JSON.stringify(read.findings)}`);
  return read.value;
};

/** Each family of lines has a base colour of its own, so that no connector repeats a pair. */
function makeDesign(id: string, r: Random): BoardDesign {
  const family = r.shuffle(bases);
  const nets: unknown[] = [];
  const headers: unknown[] = [];
  const lines = (
    prefix: 'switch-column' | 'switch-row' | 'lamp-column' | 'lamp-row' | 'load',
    count: number,
    header: string,
    base: string[],
  ) => {
    const colours = base.flatMap((b) => r.shuffle(stripes.filter((s) => s !== b)).map((s) => `${b}/${s}`)).slice(0, count);
    for (const [i, colour] of colours.entries())
      nets.push({ id: `${prefix}.${i + 1}`, kind: prefix, number: i + 1, colour, awg: prefix === 'load' ? 20 : 22 });
    const key = 1 + r.below(count);
    headers.push({
      id: header,
      positions: count + (prefix === 'load' ? 2 : 1),
      pitchMm: prefix === 'load' ? 3.96 : 2.54,
      keys: [key],
      plating: 'tin',
      termination: 'insulation-displacement',
      pins: [
        ...colours.map((_, i) => ({ position: i + 1 < key ? i + 1 : i + 2, net: `${prefix}.${i + 1}` })),
        ...(prefix === 'load' ? [{ position: count + 2, net: 'supply.coil' }] : []),
      ],
    });
  };
  const [a, b, c, d, e, f] = family as [string, string, string, string, string, string];
  lines('switch-column', lineCount, `A1J${1 + r.below(3)}`, [a]);
  lines('switch-row', lineCount, `A1J${4 + r.below(3)}`, [b]);
  lines('lamp-column', lineCount, `A2J${1 + r.below(3)}`, [c]);
  lines('lamp-row', lineCount, `A2J${4 + r.below(3)}`, [d]);
  lines('load', loadCount, `A3J${1 + r.below(4)}`, [e, f]);
  nets.push({ id: 'supply.coil', kind: 'supply', colour: 'red', awg: 18, volts: 50, supply: 'dc' });
  return must(
    readDesign({
      format: 'fettlebook-board/1',
      id,
      name: `${id} board set`,
      boards: ['A1', 'A2', 'A3'].map((designator, i) => ({ designator, name: ['Switch board', 'Lamp board', 'Coil board'][i] })),
      matrix: { polarity: 'strobe-low', idle: 'pulled', rowSupplyVolts: 12, thresholdRatio: 0.5 },
      nets,
      headers,
    }),
  );
}

type Plan = { role: Role; kind: Kind; side: Side | null; name: string };
const sides: Side[] = ['left', 'right'];
const cap = (s: string) => s.charAt(0).toUpperCase() + s.slice(1);
const pair = (role: Role, kind: Kind, name: string): Plan[] => sides.map((side) => ({ role, kind, side, name: `${cap(side)} ${name}` }));
const bank = (role: Role, kind: Kind, name: string, n: number): Plan[] =>
  Array.from({ length: n }, (_, i) => ({ role, kind, side: null, name: `${name} ${i + 1}` }));
const single = (role: Role, kind: Kind, name: string): Plan => ({ role, kind, side: null, name });

function plan([drops = '', targets = '', lanes = '']: readonly string[], r: Random): Plan[] {
  return [
    ...bank('trough', 'switch', 'Trough', 4),
    ...pair('outlane', 'switch', 'outlane'),
    ...pair('inlane', 'switch', 'inlane'),
    ...pair('sling', 'switch', 'sling'),
    ...bank('bumper', 'switch', 'Bumper', 3),
    ...bank('drop-target', 'switch', drops, 4),
    ...bank('target', 'switch', targets, 4),
    ...bank('top-lane', 'switch', lanes, 3),
    single('spinner', 'switch', 'Spinner'),
    ...pair('orbit', 'switch', 'orbit'),
    single('ramp', 'switch', r.pick(['Ramp entry', 'Ramp foot', 'Ramp made'])),
    single('scoop', 'switch', r.pick(['Scoop', 'Saucer'])),
    ...pair('coin-slot', 'switch', 'coin slot'),
    single('tilt', 'switch', r.pick(['Tilt pendulum', 'Tilt bob'])),
    single('start-button', 'switch', 'Start button'),
    single('shooter-lane', 'switch', 'Shooter lane'),
    ...pair('flipper', 'load', 'flipper'),
    ...pair('sling', 'load', 'sling coil'),
    ...bank('bumper', 'load', 'Bumper coil', 3),
    single('trough', 'load', 'Trough eject'),
    single('drop-target', 'load', `${drops} reset`),
    single('scoop', 'load', 'Scoop kickout'),
    single('kickback', 'load', 'Kickback'),
    single('knocker', 'load', 'Knocker'),
    ...bank('flasher', 'load', 'Flasher', 2),
    ...bank('arrow-lamp', 'lamp', 'Arrow', 4),
    ...bank('bonus-lamp', 'lamp', 'Bonus', 5),
    ...bank('top-lane', 'lamp', `${lanes} lamp`, 3),
    ...bank('illumination', 'lamp', 'Playfield lighting', 3),
    single('start-button', 'lamp', 'Start button lamp'),
  ];
}

export function makeFleet(names: Names, seed: number): Fleet {
  const r = random(seed);
  const designs = names.designs.map((id) => makeDesign(id, r));
  const machines = names.machines.map((name, i) => {
    const design = designs[i % designs.length] as BoardDesign;
    return makeMachine(name, names.banks[i] ?? [], design, r);
  });
  return { designs, machines };
}

function makeMachine(name: string, banks: readonly string[], design: BoardDesign, r: Random) {
  const all = plan(banks, r);
  const lineOf = (net: string): Line => {
    const header = design.headers.find((h) => h.pins.some((p) => p.net === net));
    const position = header?.pins.find((p) => p.net === net)?.position;
    return { net, colour: design.nets.find((n) => n.id === net)?.colour ?? '', pin: `${header?.id}-${position}` };
  };
  const cells = (column: 'switch-column' | 'lamp-column', row: 'switch-row' | 'lamp-row', kind: Kind) => {
    const places = r.shuffle(Array.from({ length: lineCount * lineCount }, (_, i) => i));
    return all
      .filter((p) => p.kind === kind)
      .map((p, i) => {
        const place = places[i] as number;
        const [c, w] = [1 + Math.floor(place / lineCount), 1 + (place % lineCount)];
        return { ...p, c, w, lines: [lineOf(`${column}.${c}`), lineOf(`${row}.${w}`)] };
      });
  };
  const switches = cells('switch-column', 'switch-row', 'switch');
  const lamps = cells('lamp-column', 'lamp-row', 'lamp');
  const loads = all.filter((p) => p.kind === 'load').map((p, i) => ({ ...p, number: `L${i + 1}`, lines: [lineOf(`load.${i + 1}`)] }));
  const chart = must(
    readMachine({
      format: 'fettlebook-machine/1',
      id: name.toLowerCase().replace(/\W+/g, '-'),
      name,
      sort: 'solid-state pinball',
      design: design.id,
      numbering: { order: 'column-row' },
      switches: switches.map(({ name, c, w }) => ({ name, column: c, row: w })),
      lamps: lamps.map(({ name, c, w }) => ({ name, column: c, row: w })),
      loads: loads.map(({ name, number, role, lines }) => ({
        name,
        number,
        kind: role === 'flasher' ? 'flasher' : 'coil',
        net: lines[0]?.net,
        supply: 'supply.coil',
      })),
    }),
  );
  const device = (d: Plan & { lines: Line[] }, number: string): Device => ({
    role: d.role,
    kind: d.kind,
    side: d.side,
    name: d.name,
    number,
    lines: d.lines,
  });
  return {
    chart,
    title: name,
    devices: [
      ...switches.map((s) => device(s, `${s.c}${s.w}`)),
      ...loads.map((l) => device(l, l.number)),
      ...lamps.map((l) => device(l, '')),
    ],
  };
}
