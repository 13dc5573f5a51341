/** Entering a chart: how many pastes make a machine, and how long a paste of 10,000 rows takes and blocks, in Node and in Debian's chromium. */
import { join } from 'node:path';
import { createContext, Script } from 'node:vm';
import { chromium } from '@playwright/test';
import { buildSync } from 'esbuild';
import { applyTable, type EntryChart, emptyMachine, lintMissing, readTable, understand } from '@/lib/core/chart/entry';
import type { BoardDesign, Machine } from '@/lib/core/chart/schema';
import { colourOf, lines, matrixGrid, nameAt, pinOfLine, sb2, sheet, switchList } from '../core/entry-pastes';
import type { Checks, Sliced } from './charts-slices';
import { figure, median } from './figure';

const empty = (): EntryChart => ({ design: sb2, machine: emptyMachine(sb2, { id: 'new', name: 'New machine' }) });

/** Pastes until every place of the switch matrix has its name and lint finds nothing; infinite when they do not bring it there. */
function pastesToClean(pastes: readonly string[]): number {
  let chart = empty();
  for (const [i, paste] of pastes.entries()) {
    const read = understand(readTable(paste), chart);
    const { chart: next, lint, findings } = applyTable(chart, read);
    chart = next;
    const clean = [...lint.machine, ...lint.design, ...findings, ...read.asks].length === 0;
    const whole = chart.machine.switches.length === 64 && !lintMissing(chart.machine, sb2).some((f) => f.path === 'switches');
    if (clean && whole) return i + 1;
  }
  return Number.POSITIVE_INFINITY;
}
const list = switchList();
const columns = (...heads: number[]) => list.map((row) => heads.map((i) => row[i] ?? ''));
figure('charts', 'pastes to 64 switches without a finding, from a grid', pastesToClean([sheet(matrixGrid())]), 'pastes', 3);
figure('charts', 'the same, from a list of number and name', pastesToClean([sheet(columns(0, 1))]), 'pastes', 3);
figure('charts', 'the same, from a list on three sheets', pastesToClean(sheets(3)), 'pastes', 3);

function sheets(count: number): string[] {
  const [head = [], ...body] = list;
  const each = Math.ceil(body.length / count);
  return Array.from({ length: count }, (_, i) => sheet([head, ...body.slice(i * each, (i + 1) * each)]));
}

const rows = 10_000;
const times = <T>(of: (i: number) => T): T[] => Array.from({ length: rows }, (_, i) => of(i));
const pins = sb2.headers.flatMap((h) => h.pins.map((p) => ({ header: h.id, ...p })));
/** Tables that are long for each a reason of its own: known rows again and again, all rows different, nothing that is known. */
const tables: Record<string, string> = {
  'a switch list': sheet([list[0] ?? [], ...times((i) => list[1 + (i % 64)] ?? [])]),
  'a connector list': sheet([
    ['Header', 'Pin', 'Wire', 'Line', 'Goes to'],
    ...times((i) => {
      const pin = pins[i % pins.length];
      return [pin?.header ?? '', String(pin?.position), colourOf(sb2, pin?.net ?? '', 'short'), pin?.net ?? '', `terminal ${i}`];
    }),
  ]),
  'a load list': sheet([
    ['No.', 'Coil', 'Driver', 'Wire', 'Supply', 'Ohms'],
    ...times((i) => [
      `L${1 + (i % 16)}`,
      `Coil ${i}`,
      `Q${1 + (i % 16)}`,
      colourOf(sb2, `load.${1 + (i % 16)}`, 'short'),
      '52 V',
      `${i % 90}`,
    ]),
  ]),
  'a list without headings': sheet(times((i) => [String(11 + i), `Target ${i}`, pinOfLine(sb2, `switch-row.${lines[i % 8]}`)])),
  'wires that are all written otherwise': sheet([
    list[0] ?? [],
    ...times((i) => (list[1 + (i % 64)] ?? []).map((cell, c) => (c === 3 ? `V${i.toString(36)}-YEL` : c === 6 ? `grey ${i}` : cell))),
  ]),
  'words without a meaning': times((i) =>
    [...'abcdefgh'].map((l, c) => `${nameAt(1 + ((i + c) % 8), 1 + (i % 8))} ${l}${i * c}`).join(','),
  ).join('\n'),
};

const bundled =
  buildSync({
    entryPoints: [join(import.meta.dirname, 'charts-slices.ts')],
    bundle: true,
    write: false,
    format: 'iife',
    target: 'es2022',
    minify: true,
    tsconfig: join(import.meta.dirname, '../../tsconfig.json'),
  }).outputFiles[0]?.text ?? '';
const rounds = 5;

/** Charts of one long table each, as long as a paste that somebody makes by mistake. */
const long = (list: string, of: (i: number) => object) => ({
  machine: { ...empty().machine, [list]: times(of) } as unknown as Machine,
  design: sb2,
});
const steps = (i: number) => [
  { switch: String(11 + (i % 80)) },
  { splice: `S${i}`, branches: [[{ switch: String(11 + ((i + 7) % 80)) }], [{ switch: '18' }]] },
];
const charts: Record<string, { machine: Machine | null; design: BoardDesign }> = {
  switches: long('switches', (i) => ({
    column: i % 17,
    row: (i >> 4) % 17,
    name: `Target ${i}`,
    number: String(i),
    device: 'leaf',
    normally: 'open',
    diode: 'at the switch',
  })),
  'direct switches': long('direct', (i) => ({
    number: `D${i}`,
    net: `direct.${1 + (i % 8)}`,
    name: `Button ${i}`,
    device: 'leaf',
    normally: 'open',
  })),
  lamps: long('lamps', (i) => ({ column: i % 17, row: (i >> 4) % 17, name: `Lamp ${i}` })),
  loads: long('loads', (i) => ({
    number: `L${i}`,
    name: `Coil ${i}`,
    kind: 'coil',
    net: `load.${1 + (i % 16)}`,
    supply: 'supply.coil',
    fuse: 'F3, 4 A slow',
  })),
  'lamp strings': long('illumination', (i) => ({ id: `G${i}`, name: `String ${i}`, net: 'illumination.1', back: 'ground', lamps: 9 })),
  chains: long('chains', (i) => ({ tap: `${pins[i % pins.length]?.header}-${pins[i % pins.length]?.position}`, steps: steps(i) })),
  'in-line pins': {
    machine: {
      ...long('inlinePins', (i) => ({
        pin: `X${1 + (i % 99)}-${1 + (i % 60)}`,
        net: sb2.nets[i % sb2.nets.length]?.id,
        far: [{ colour: 'pink' }],
      })).machine,
      inline: Array.from({ length: 60 }, (_, i) => ({
        id: `X${i + 1}`,
        positions: 60,
        pitchMm: 2.54,
        keys: [],
        plating: 'tin',
        termination: 'crimp',
      })),
    },
    design: sb2,
  },
  lines: {
    machine: null,
    design: {
      ...sb2,
      nets: times((i) => ({ id: `load.${i}`, kind: 'load', number: i % 64, colour: 'brown', awg: 20, fuse: 'F3, 4 A slow' })),
    },
  },
  headers: {
    machine: null,
    design: {
      ...sb2,
      headers: times((i) => ({
        ...(sb2.headers[i % sb2.headers.length] as BoardDesign['headers'][number]),
        id: `A${1 + (i % 99)}J${i % 100}`,
        pins: [],
      })),
    },
  },
  'pins of one header': {
    machine: null,
    design: {
      ...sb2,
      headers: sb2.headers
        .slice(0, 1)
        .map((h) => ({ ...h, pins: times((i) => ({ position: 1 + (i % 60), net: sb2.nets[i % sb2.nets.length]?.id ?? '' })) })),
    },
  },
};

interface Runner {
  name: string;
  /** Each time in a realm of its own, whose code is cold, as it is when one pastes. */
  run(text: string): Promise<Sliced>;
  check(chart: { machine: Machine | null; design: BoardDesign }): Promise<Checks>;
  end(): Promise<void>;
}
const node: Runner = {
  name: 'Node',
  async run(text) {
    const realm = createContext({ performance, setTimeout, TextDecoder, URL });
    new Script(bundled).runInContext(realm);
    return (realm.inSlices as (text: string, chart: EntryChart) => Promise<Sliced>)(text, empty());
  },
  async check({ machine, design }) {
    const realm = createContext({ performance, setTimeout, TextDecoder, URL, structuredClone });
    new Script(bundled).runInContext(realm);
    return (realm.checkInSlices as (m: Machine | null, d: BoardDesign) => Promise<Checks>)(machine, design);
  },
  end: async () => {},
};
async function browser(): Promise<Runner> {
  const chrome = await chromium.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    args: ['--no-sandbox', '--disable-gpu', '--disable-background-networking'],
  });
  return {
    name: 'chromium',
    async run(text) {
      const page = await chrome.newPage();
      await page.addScriptTag({ content: bundled });
      const took = await page.evaluate(
        ([source, chart]) => (globalThis as unknown as { inSlices(t: string, c: EntryChart): Promise<Sliced> }).inSlices(source, chart),
        [text, empty()] as const,
      );
      await page.close();
      return took;
    },
    async check({ machine, design }) {
      const page = await chrome.newPage();
      await page.addScriptTag({ content: bundled });
      const took = await page.evaluate(
        ([m, d]) => (globalThis as unknown as { checkInSlices(m: Machine | null, d: BoardDesign): Promise<Checks> }).checkInSlices(m, d),
        [machine, design] as const,
      );
      await page.close();
      return took;
    },
    end: () => chrome.close(),
  };
}

for (const runner of [node, await browser()]) {
  const worst = { total: 0, longest: 0 };
  for (const [name, text] of Object.entries(tables)) {
    const took: Sliced[] = [];
    for (let round = 0; round < rounds; round += 1) took.push(await runner.run(text));
    if (took.some((t) => t.rows < rows)) throw new Error(`${name} was read as ${took[0]?.rows} rows`);
    const [total, longest] = [median(took.map((t) => t.total)), median(took.map((t) => t.longest))];
    figure('charts', `${runner.name}: 10,000 rows of ${name}`, total, 'ms');
    worst.total = Math.max(worst.total, total);
    worst.longest = Math.max(worst.longest, longest);
  }
  figure('charts', `${runner.name}: 10,000 rows read, understood and applied, the slowest table`, worst.total, 'ms', 1000);
  figure('charts', `${runner.name}: the longest stretch without a rest in it`, worst.longest, 'ms', 50);
  let longest = 0;
  for (const [name, chart] of Object.entries(charts)) {
    const took: Checks[] = [];
    for (let round = 0; round < rounds; round += 1) took.push(await runner.check(chart));
    const stretch = median(took.map((t) => t.longest));
    figure('charts', `${runner.name}: check of 10,000 ${name}, ${took[0]?.findings} findings`, median(took.map((t) => t.total)), 'ms');
    figure('charts', `${runner.name}: check of 10,000 ${name}, the longest stretch`, stretch, 'ms');
    longest = Math.max(longest, stretch);
  }
  figure('charts', `${runner.name}: the longest stretch without a rest in a check of 10,000 rows`, longest, 'ms', 50);
  await runner.end();
}
