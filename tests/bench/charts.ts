/** Entering a chart: how many pastes make a machine, and how long a paste of 10,000 rows takes and blocks, in Node and in Debian's chromium. */
import { join } from 'node:path';
import { createContext, Script } from 'node:vm';
import { chromium } from '@playwright/test';
import { buildSync } from 'esbuild';
import { applyTable, type EntryChart, emptyMachine, lintMissing, readTable, understand } from '@/lib/core/chart/entry';
import { colourOf, lines, matrixGrid, nameAt, pinOfLine, sb2, sheet, switchList } from '../core/entry-pastes';
import type { Sliced } from './charts-slices';
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

interface Runner {
  name: string;
  /** Each time in a realm of its own, whose code is cold, as it is when one pastes. */
  run(text: string): Promise<Sliced>;
  end(): Promise<void>;
}
const node: Runner = {
  name: 'Node',
  async run(text) {
    const realm = createContext({ performance, setTimeout, TextDecoder, URL });
    new Script(bundled).runInContext(realm);
    return (realm.inSlices as (text: string, chart: EntryChart) => Promise<Sliced>)(text, empty());
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
  await runner.end();
}
