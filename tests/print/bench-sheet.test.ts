import { describe, expect, test } from 'vitest';
import { indexChart } from '@/lib/core/chart';
import { type Deviation, type Header, header } from '@/lib/core/chart/schema';
import { planConnector } from '@/lib/core/harness';
import type { ConnectorPlan } from '@/lib/core/harness/types';
import { type BenchSheet, benchSheet } from '@/lib/print/bench-sheet';
import { matrixMap } from '@/lib/print/matrix-map';
import { marginMm, type Paper } from '@/lib/print/paper';
import { wireFlags } from '@/lib/print/wire-flags';
import { designOf, machineOf } from '../core/entry-pastes';
import { fixtureChart, fixtureDesign, fixtureMachine } from '../core/fixture';
import { fixtureCatalogue } from '../core/parts-fixture';
import { halves } from '../files/images';
import pitches from '../reference/pitch.json';
import { elements, outside, type ReadPage, type ReadPdf, readPdf } from './read-pdf';

const address = 'https://club.example/pages/7';
const made = new Date('2026-03-04T05:06:07Z');

function planned(id: string, chart = fixtureChart): ConnectorPlan {
  const result = planConnector(chart, id, fixtureCatalogue, {}, { headerSide: 'sound', saveKey: false, pigtails: [] });
  if (!result.ok) throw new Error(result.message);
  return result.plan;
}
const sheetOf = (plan: ConnectorPlan, more: Partial<BenchSheet> = {}): BenchSheet => ({
  plan,
  ticks: {},
  seated: {},
  tugged: {},
  photos: {},
  machine: 'Lantern Regatta, no. 3',
  page: 'Spinner misses',
  address,
  club: 'Ashgate Shed',
  made,
  ...more,
});
const read = async (plan: ConnectorPlan, paper: Paper, more: Partial<BenchSheet> = {}) =>
  readPdf(await benchSheet(sheetOf(plan, more), paper));

/** A connector of any shape, every position wired. */
function connector(shape: Partial<Header> & { positions: number }): ConnectorPlan {
  const made = header.parse({
    id: 'A3J9',
    pitchMm: 2.54,
    plating: 'tin',
    termination: 'crimp',
    keys: [],
    pins: Array.from({ length: shape.positions }, (_, i) => ({ position: i + 1, net: `switch-row.${(i % 8) + 1}` })).filter(
      ({ position }) => !shape.keys?.includes(position),
    ),
    ...shape,
  });
  const chart = indexChart(fixtureMachine, { ...fixtureDesign, headers: [...fixtureDesign.headers, made] });
  return planned('A3J9', chart);
}

/** Squares of the openings: closed outlines, 0.56 of the pitch wide and high; centres in mm. */
const openings = ({ shapes }: ReadPage, pitch: number) =>
  shapes.flatMap(({ points }) => {
    if (points.length !== 4) return [];
    const xs = points.map(([x]) => x);
    const ys = points.map(([, y]) => y);
    const [l, r, t, b] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
    return Math.abs(r - l - pitch * 0.56) < 0.01 && Math.abs(b - t - pitch * 0.56) < 0.01 ? [{ x: (l + r) / 2, y: (t + b) / 2 }] : [];
  });
/** Openings that stand on one height, from left to right. */
function rowsOf(page: ReadPage, pitch: number): number[][] {
  const rows = new Map<string, number[]>();
  for (const { x, y } of openings(page, pitch)) rows.set(y.toFixed(2), [...(rows.get(y.toFixed(2)) ?? []), x]);
  return [...rows.values()].map((xs) => xs.sort((a, b) => a - b));
}
const steps = (xs: number[]) => xs.slice(1).map((x, i) => x - (xs[i] ?? 0));
const bars = ({ pages }: ReadPdf) =>
  pages.flatMap((page) =>
    page.shapes.flatMap(({ points }) => {
      const xs = points.map(([x]) => x);
      const ys = points.map(([, y]) => y);
      return points.length === 4 && Math.abs(Math.max(...ys) - Math.min(...ys) - 1.4) < 0.01 ? [Math.max(...xs) - Math.min(...xs)] : [];
    }),
  );

const papers = [
  ['a4', 210, 297], // ISO 216, from memory
  ['letter', 215.9, 279.4], // 8.5 in × 11 in, ANSI/ASME Y14.1, from memory
] as const;

describe.each(papers)('on %s', (paper, width, height) => {
  test.each(pitches.rows)('positions stand $mm_exact mm apart where parts print $printed_mm', async ({ printed_mm, mm_exact }) => {
    const plan = connector({ positions: 12, pitchMm: printed_mm as 2.54, keys: [4] });
    const pdf = await read(plan, paper);
    const rows = pdf.pages.flatMap((page) => rowsOf(page, mm_exact));
    expect(rows.map((row) => row.length)).toEqual([12, 12]); // both faces
    for (const row of rows) {
      for (const step of steps(row)) expect(step).toBeCloseTo(mm_exact, 3);
      expect((row.at(-1) ?? 0) - (row[0] ?? 0)).toBeCloseTo(11 * mm_exact, 2); // no drift over the whole length
    }
    expect(bars(pdf)).toHaveLength(1);
    expect(bars(pdf)[0]).toBeCloseTo(50, 3);
  });

  test.each([
    ['longer than the paper is wide', { positions: 60, pitchMm: 3.96 as const }, 3.9624],
    ['two rows', { positions: 20, rows: 2 as const, numbering: 'zigzag' as const }, 2.54],
    ['two long rows, odd', { positions: 59, pitchMm: 5.08 as const, rows: 2 as const, numbering: 'per-row' as const }, 5.08],
    ['one position', { positions: 1 }, 2.54],
  ])('%s stays 1:1, inside the margins, every position once a face', async (_, shape, pitch) => {
    const pdf = await read(connector(shape), paper);
    const rows = pdf.pages.flatMap((page) => rowsOf(page, pitch));
    expect(rows.flat()).toHaveLength(2 * shape.positions);
    for (const step of rows.flatMap(steps)) expect(step).toBeCloseTo(pitch, 3);
    for (const page of pdf.pages) {
      expect([page.widthMm, page.heightMm]).toEqual([expect.closeTo(width, 2), expect.closeTo(height, 2)]);
      expect(outside(page, marginMm)).toEqual(
        page === pdf.pages[0] ? [] : outside(page, marginMm).filter((o) => o.includes('Bench sheet')),
      );
    }
  });
});

test('every wire of the connector is named at its place on both faces and in the list', async () => {
  const plan = planned('A3J4');
  const pdf = await read(plan, 'a4');
  const words = pdf.pages.flatMap((page) => page.words.map((w) => w.text));
  for (const row of plan.rows) {
    if (row.wires.length === 0) continue;
    const colour = row.wires[0]?.colour ?? '';
    const onFaces = words.filter((word) => word.startsWith(`${row.position} ${colour}`));
    expect(onFaces, `${row.position} ${colour}`).toHaveLength(2);
    expect(words.filter((word) => word === colour || word === `${colour}, ${row.wires.length} wires`).length).toBeGreaterThan(0);
  }
});

test('position 1 is at the left on the wire side and at the right on the mating side', async () => {
  const pdf = await read(planned('A3J4'), 'a4');
  const labels = pdf.pages.flatMap((page) => page.words.filter((w) => /^\d+ (grey|black|key|no wire|violet|pink)/.test(w.text)));
  const order = labels.map((w) => Number.parseInt(w.text, 10));
  const half = order.length / 2;
  const sorted = (part: typeof labels) => [...part].sort((a, b) => a.x - b.x).map((w) => Number.parseInt(w.text, 10));
  expect(sorted(labels.slice(0, half))).toEqual(Array.from({ length: 11 }, (_, i) => i + 1));
  expect(sorted(labels.slice(half))).toEqual(Array.from({ length: 11 }, (_, i) => 11 - i));
});

test('a sheet carries cautions, housing, terminals, steps, the address and what was found otherwise', async () => {
  const noted = (id: string, place: Deviation['place'], here: string) => ({
    id,
    on: '2024-05-03',
    by: 'Wen Halloran',
    place,
    manual: 'grey/orange',
    here,
    why: 'A burnt run.',
    since: '2019',
  });
  const machine = {
    ...fixtureMachine,
    asFound: [
      noted('f1', { pin: 'A3J4-7' }, 'pink/white'),
      noted('f2', { pin: 'A1J2-1' }, 'not of this plug'),
      noted('f3', { switch: '46', net: 'switch-row.6' }, 'plain white'),
      { ...noted('f4', { net: 'switch-row.6' }, 'gone again'), withdrawn: { on: '2025-01-01', by: 'Ines Okafor', why: '' } },
    ],
  };
  const plan = planned('A3J4', indexChart(machine, fixtureDesign));
  const step = plan.steps[0];
  const photo = await halves(640, 480).jpeg().toBuffer();
  const pdf = await read(plan, 'a4', {
    ticks: { [step?.id ?? '']: { by: 'Wen Halloran', at: '2026-03-03T10:00:00Z' } },
    photos: { f1: photo },
  });
  const text = pdf.pages
    .map((page) => page.text)
    .join('\n')
    .replace(/\s+/g, ' ');
  for (const caution of plan.cautions) expect(text).toContain(caution.title.replace(/\.$/, ''));
  for (const each of plan.steps) expect(text).toContain(each.title.replace(/\.$/, ''));
  for (const row of plan.rows) if (row.terminal) expect(text).toContain(`${row.terminal.part}, ${row.terminal.stripMm} mm`);
  expect(text).toContain('A3J4-7: manual: grey/orange. Here: pink/white. A burnt run. So since 2019. Wen Halloran, 3 May 2024');
  expect(text).toContain('46 Spinner, row 6 at 7: manual: grey/orange. Here: plain white.');
  expect(text).not.toMatch(/not of this plug|gone again/);
  expect(text).toContain('done: Wen Halloran, 3 March 2026');
  expect(text).toContain(address);
  expect(text).toContain('must be 50 mm long');
  const figures = pdf.pages.flatMap((page) => elements(page.tree)).filter((node) => node.role === 'Figure');
  expect(figures.map((f) => f.alt)).toEqual(expect.arrayContaining([`QR code of ${address}`, 'As found at A3J4-7: pink/white']));
  expect(figures.filter((f) => f.alt?.startsWith('As found'))).toHaveLength(1);
  expect(figures.every((f) => (f.alt ?? '').length > 0)).toBe(true);
  expect(pdf).toMatchObject({ language: 'en', marked: true, conformance: '1' });
  expect(pdf.pages.flatMap((page) => page.fonts).every((f) => f.embedded)).toBe(true);
});

test.each(['a4', 'letter'] as const)('the map on %s names every switch, its lines and their wires', async (paper) => {
  const pdf = await readPdf(await matrixMap({ chart: fixtureChart, address, club: 'Ashgate Shed', made }, paper));
  const text = pdf.pages
    .map((page) => page.text)
    .join(' ')
    .replace(/\s+/g, ' ');
  for (const circuit of fixtureChart.circuits) {
    expect(text).toContain(circuit.number);
    expect(text).toContain(circuit.name);
  }
  for (const net of fixtureChart.nets.values()) if (/^switch-(row|column)$/.test(net.kind)) expect(text).toContain(net.colour);
  for (const page of pdf.pages) {
    expect(page.widthMm).toBeGreaterThan(page.heightMm);
    expect(outside(page, marginMm)).toEqual([]);
  }
});

test('the map says on which photo a switch is pinned, and where', async () => {
  const picture = 'ab'.repeat(32);
  const photo = { picture, width: 800, height: 600, caption: 'Upper playfield', on: '2026-01-09', by: 'Wen Halloran' };
  const machine = { ...fixtureChart.machine, photos: [photo], pinned: [{ id: 'one', photo: picture, at: [0.25, 0.5], switch: '46' }] };
  const chart = indexChart(machine, fixtureChart.design);
  const pdf = await readPdf(await matrixMap({ chart, address, club: 'Ashgate Shed', made }, 'a4'));
  const words = pdf.pages.map((page) => page.text.replace(/\s+/g, ' '));
  expect(words[0]).toContain('photo 1');
  expect(words.join(' ')).toContain('Photo 1: Upper playfield');
  expect(words.join(' ')).toMatch(/46 Spinner 25 % 50 %/);
  const plain = await readPdf(await matrixMap({ chart: fixtureChart, address, club: 'Ashgate Shed', made }, 'a4'));
  expect(plain.pages.map((page) => page.text).join(' ')).not.toMatch(/photo/i);
});

test.each(['a4', 'letter'] as const)('on %s each wire has a flag of the size asked for, worded on both halves', async (paper) => {
  const size = { widthMm: 30, heightMm: 10 };
  const pdf = await readPdf(await wireFlags({ chart: fixtureChart, headers: ['A3J4'], size, club: 'Ashgate Shed', made }, paper));
  const wires = [...fixtureChart.pins.values()].filter((tap) => tap.header === 'A3J4').flatMap((tap) => tap.wires.map(() => tap.pin));
  const words = pdf.pages.flatMap((page) => page.words.map((w) => w.text));
  for (const pin of new Set(wires)) expect(words.filter((w) => w === pin)).toHaveLength(2 * wires.filter((w) => w === pin).length);
  const cut = pdf.pages.flatMap((page) =>
    page.shapes.filter(({ points }) => {
      const xs = points.map(([x]) => x);
      const ys = points.map(([, y]) => y);
      return (
        points.length === 4 &&
        Math.abs(Math.max(...xs) - Math.min(...xs) - 68) < 0.01 &&
        Math.abs(Math.max(...ys) - Math.min(...ys) - 10) < 0.01
      );
    }),
  );
  expect(cut).toHaveLength(wires.length);
  expect(pdf.pages.flatMap((page) => outside(page, marginMm))).toEqual([]);
});

test('the flags of a half of an in-line connector carry its own pins and wires', async () => {
  const chart = indexChart(machineOf('tin-orchard'), designOf('sb-1'));
  const flags = async (headers: string[]) => {
    const pdf = await readPdf(await wireFlags({ chart, headers, size: { widthMm: 30, heightMm: 10 }, club: 'Ashgate Shed', made }, 'a4'));
    return pdf.pages.map((page) => page.text.replace(/\s+/g, ' ')).join(' ');
  };
  const far = await flags(['X1F']);
  expect(far).toContain('X1F (X1, far half)');
  expect(far).toMatch(/X1F-1 yellow\/red/);
  expect(far).not.toContain('X1B-1');
  expect(await flags(['X1B'])).toMatch(/X1B-1 green\/white/);
  const all = await flags([]);
  for (const pin of ['A1J10-1', 'X1B-1', 'X1F-1']) expect(all).toContain(pin);
});
