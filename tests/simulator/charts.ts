/** Charts for the simulator: a plain grid for golden cases, and seeded random ones with taps, chains and splices. */
import { type Chart, indexChart, printedNumber } from '@/lib/core/chart';
import { type BoardDesign, boardDesign, type Chain, machine, type Step } from '@/lib/core/chart/schema';
import { type Random, random } from './random';

type Matrix = Partial<BoardDesign['matrix']>;
const plainMatrix: Matrix = { polarity: 'strobe-low', idle: 'float', rowSupplyVolts: 12, thresholdRatio: 0.42 };
const small = { pitchMm: 2.54, plating: 'tin', termination: 'insulation-displacement' };
const emitters = 'supply.emitters';
const columnId = (n: number) => `switch-column.${n}`;
const rowId = (n: number) => `switch-row.${n}`;
const upTo = (n: number) => Array.from({ length: n }, (_, i) => i + 1);

interface Lines {
  columns: number;
  rows: number;
  direct: number;
}
const netsOf = ({ columns, rows, direct }: Lines) => [
  ...upTo(columns).map((n) => net(columnId(n), 'switch-column', n, 'U1')),
  ...upTo(rows).map((n) => net(rowId(n), 'switch-row', n, n < 5 ? 'U2' : 'U3')),
  ...upTo(direct).map((n) => net(`direct.${n}`, 'direct', n, 'U4')),
  { id: 'ground', kind: 'ground', colour: 'black', awg: 22 },
  { id: emitters, kind: 'supply', colour: 'orange', awg: 22, volts: 5, supply: 'dc' },
];
const net = (id: string, kind: string, number: number, part: string) => ({ id, kind, number, colour: 'grey/red', awg: 24, part });

interface HeaderSpec {
  id: string;
  nets: readonly string[];
  keyAfter?: number | undefined; // positions before the key; absent: no key
  lock?: 'shroud' | 'friction' | 'none';
}
function headerOf({ id, nets, keyAfter, lock = 'shroud' }: HeaderSpec) {
  const positionOf = (i: number) => i + 1 + (keyAfter !== undefined && i >= keyAfter ? 1 : 0);
  return {
    ...small,
    id,
    positions: nets.length + (keyAfter === undefined ? 0 : 1),
    keys: keyAfter === undefined ? [] : [keyAfter + 1],
    lock,
    pins: nets.map((n, i) => ({ position: positionOf(i), net: n })),
  };
}
const pinsOn = (headers: ReturnType<typeof headerOf>[], net: string) =>
  headers.flatMap((h) => h.pins.filter((pin) => pin.net === net).map((pin) => `${h.id}-${pin.position}`));

/** A full grid without direct switches: columns on A1J1, rows on A1J2, one tap each, a chain along every line. Numbers are column then row. */
export function grid(columns: number, rows: number, matrix: Matrix = {}): Chart {
  const headers = [headerOf({ id: 'A1J1', nets: upTo(columns).map(columnId) }), headerOf({ id: 'A1J2', nets: upTo(rows).map(rowId) })];
  const cells = upTo(columns).flatMap((column) => upTo(rows).map((row) => ({ column, row, name: `Switch ${column} ${row}` })));
  const numberOf = (c: number, r: number) => (columns > 9 || rows > 9 ? `${c}-${r}` : `${c}${r}`);
  const steps = (numbers: string[]): Step[] => numbers.map((n) => ({ switch: n }));
  return make(
    { columns, rows, direct: 0 },
    { ...plainMatrix, ...matrix },
    headers,
    cells.map((cell) => ({ ...cell, number: numberOf(cell.column, cell.row) })),
    [],
    [
      ...upTo(columns).map((c) => ({ tap: `A1J1-${c}`, steps: steps(upTo(rows).map((r) => numberOf(c, r))) })),
      ...upTo(rows).map((r) => ({ tap: `A1J2-${r}`, steps: steps(upTo(columns).map((c) => numberOf(c, r))) })),
    ],
  );
}

function make(
  lines: Lines,
  matrix: Matrix,
  headers: ReturnType<typeof headerOf>[],
  switches: readonly object[],
  direct: readonly object[],
  chains: readonly Chain[],
  withoutKey: readonly string[] = [], // connectors whose plug has lost its key
  inline?: InLine,
): Chart {
  const design = boardDesign.parse({
    format: 'fettlebook-board/1',
    id: 'SB-T',
    name: 'Board set of a simulated machine',
    boards: [{ designator: 'A1', name: 'Switch board' }],
    matrix,
    nets: netsOf(lines),
    headers,
  });
  const found = machine.parse({
    format: 'fettlebook-machine/1',
    id: 'simulated',
    name: 'Simulated machine',
    sort: 'simulated',
    design: 'SB-T',
    numbering: { order: 'column-row' },
    switches,
    direct,
    chains,
    ...inline,
    keysAsFound: withoutKey.map((header) => ({ header, plug: [], on: '2026-01-05', by: 'Simulator' })),
  });
  return indexChart(found, design);
}

/** Board designs that the random charts take in turn; the figures are of common kinds, no source. */
export const designs: readonly Matrix[] = [
  { polarity: 'strobe-low', idle: 'float', rowSupplyVolts: 12, thresholdRatio: 0.42 },
  { polarity: 'strobe-low', idle: 'pulled', rowSupplyVolts: 12, thresholdRatio: 0.35, select: 'decoder', floatReads: 'carry-over' },
  { polarity: 'strobe-low', idle: 'float', rowSupplyVolts: 5, thresholdRatio: 0.28, rowPullOhms: 4700 },
  { polarity: 'strobe-high', idle: 'pulled', rowSupplyVolts: 5, thresholdRatio: 0.5, rowPullOhms: 1000 },
  { polarity: 'strobe-low', idle: 'driven', rowSupplyVolts: 12, thresholdRatio: 0.42, diodeEnd: 'row-contact' },
  { polarity: 'strobe-high', idle: 'float', rowSupplyVolts: 12, thresholdRatio: 0.42, floatReads: 'closed' },
];
const devices = [
  { device: 'leaf', share: 0.5 },
  { device: 'microswitch', share: 0.35 },
  { device: 'opto', share: 0.1 },
  { device: 'reed', share: 0.05 },
] as const;

/**
 * A random chart: 4 × 4 … 8 × 8, about four cells of five used, one or two taps a line, chains in a random order with splices. One plug of
 * three has no key, one of six has lost it; one board of three has a header to spare of the size of another, one of four two that are alike. In one machine of three the harness parts at one or two
 * in-line connectors.
 */
export function randomChart(chance: Random): Chart {
  const alike = chance.chance(1 / 4); // the plugs of columns and rows
  const first = chance.whole(4, 8);
  const lines: Lines = { columns: first, rows: alike ? first : chance.whole(4, 8), direct: chance.whole(0, 4) };
  const matrix = chance.pick(designs);
  const columns = upTo(lines.columns).map(columnId);
  const rows = upTo(lines.rows).map(rowId);
  const doored = chance.chance(0.5); // a second housing, such as that of a coin door
  const some = (from: readonly string[]) => chance.shuffled(from).slice(0, Math.ceil(from.length / 3));
  const direct = upTo(lines.direct).map((n) => `direct.${n}`);
  const inward = (nets: readonly string[]) => ({
    nets,
    keyAfter: chance.chance(1 / 3) ? undefined : chance.whole(1, nets.length - 1),
    lock: chance.pick(['shroud', 'friction', 'none', 'none'] as const),
  });
  const made = inward(columns);
  const headers = [
    headerOf({ id: 'A1J1', ...made }),
    headerOf({ id: 'A1J2', ...(alike ? { ...made, nets: rows } : inward(rows)) }),
    ...(doored ? [headerOf({ id: 'A1J3', ...inward([...some(columns), ...some(rows)]) })] : []),
    headerOf({ id: 'A1J4', ...inward([...direct, 'ground', emitters]), keyAfter: direct.length }),
  ];
  const lost = headers.filter(({ keys }) => keys.length > 0 && chance.chance(1 / 6)).map(({ id }) => id);
  const spare = chance.chance(1 / 3) ? headers.slice(0, 1).map((one) => ({ ...one, id: 'A1J5', pins: [] })) : [];
  const cells = columns.flatMap((_, c) => rows.map((_, r) => ({ column: c + 1, row: r + 1 }))).filter(() => chance.chance(0.8));
  const size = { columns: lines.columns, rows: lines.rows };
  const switches = cells.map((cell) => {
    const { device } = chance.weighted(devices, (d) => d.share);
    const opto = device === 'opto' ? { normally: chance.chance(0.8) ? 'closed' : 'open', emitterSupply: emitters } : {};
    return {
      ...cell,
      name: `Switch ${cell.column} ${cell.row}`,
      location: chance.chance(0.2) ? 'coin door' : 'playfield',
      device,
      ...opto,
    };
  });
  const numberOf = (cell: { column: number; row: number }) =>
    printedNumber({ order: 'column-row', first: 1, width: 2 }, cell.column, cell.row, size);
  const chains = [...columns, ...rows].flatMap((id) => {
    const [axis, line] = id.startsWith('switch-column')
      ? (['column', Number(id.slice(14))] as const)
      : (['row', Number(id.slice(11))] as const);
    const mine = chance.shuffled(cells.filter((cell) => cell[axis] === line).map(numberOf));
    const pins = pinsOn(headers, id);
    const share = pins.length > 1 ? Math.max(1, Math.floor(mine.length * 0.7)) : mine.length;
    const runs = pins.length > 1 ? [mine.slice(0, share), mine.slice(share)] : [mine];
    return runs.flatMap((numbers, i) => (numbers.length > 0 ? [{ tap: pins[i]!, steps: run(chance, numbers, id, i) }] : []));
  });
  const circuits = direct.map((id, i) => ({ number: `D${i + 1}`, net: id, name: `Button ${i + 1}` }));
  const grounds = circuits.length > 1 ? [{ tap: pinsOn(headers, 'ground')[0]!, steps: circuits.map((d) => ({ switch: d.number })) }] : [];
  const parted = inLine(headers, chains);
  if (!parted) return make(lines, matrix, [...headers, ...spare], switches, circuits, [...chains, ...grounds], lost);
  const { chains: through, lost: more, ...inline } = parted;
  return make(lines, matrix, [...headers, ...spare], switches, circuits, [...through, ...grounds], [...lost, ...more], inline);
}

interface InLine {
  inline: object[];
  inlinePins: { pin: string; net: string }[];
}

/** The lines of a header through an in-line connector each, some way along; drawn from a stream of its own, so that the rest stays as it is. */
function inLine(headers: ReturnType<typeof headerOf>[], chains: readonly Chain[]): (InLine & { chains: Chain[]; lost: string[] }) | null {
  const chance = random(JSON.stringify(chains).length);
  if (!chance.chance(1 / 3)) return null;
  const shape = { lock: chance.pick(['friction', 'none', 'none'] as const), pinsOn: chance.pick(['board', 'far'] as const) };
  const key = chance.chance(1 / 3) ? undefined : chance.whole(1, 4);
  const found: InLine & { chains: Chain[]; lost: string[] } = { inline: [], inlinePins: [], chains: [...chains], lost: [] };
  for (const [i, header] of headers.slice(0, chance.whole(1, 2)).entries()) {
    const id = `X${i + 1}`;
    const { positions, keys, pins, ...rest } = headerOf({ id, nets: header.pins.map((pin) => pin.net), keyAfter: key });
    found.inline.push({ ...rest, ...shape, termination: chance.pick(['crimp', 'insulation-displacement']), positions, keys });
    if (keys.length > 0 && chance.chance(1 / 4)) found.lost.push(id);
    const along = chance.whole(0, 1);
    for (const { position, net } of pins) {
      const pin = `${id}-${position}`;
      found.inlinePins.push({ pin, net });
      const tap = `${header.id}-${header.pins.find((p) => p.net === net)?.position}`;
      found.chains = found.chains.map((chain) => {
        // Not between a splice and what would then hang beyond it.
        const at = chain.steps.slice(0, along).some((step) => 'splice' in step) ? 0 : Math.min(along, chain.steps.length - 1);
        return chain.tap === tap ? { tap, steps: [...chain.steps.slice(0, at), { inline: pin }, ...chain.steps.slice(at)] } : chain;
      });
    }
  }
  return found;
}

/** A chain through these switches; every third one parts at a splice. */
function run(chance: Random, numbers: readonly string[], id: string, tap: number): Step[] {
  const steps = numbers.map((n): Step => ({ switch: n }));
  if (steps.length < 3 || !chance.chance(0.35)) return steps;
  const at = chance.whole(0, steps.length - 2);
  const part = chance.whole(at + 1, steps.length - 1);
  const name = `${id.includes('column') ? 'C' : 'R'}${id.replace(/\D/g, '')}${tap ? 'B' : ''}`;
  return [...steps.slice(0, at), { splice: name, branches: [steps.slice(at, part), steps.slice(part)] }];
}
