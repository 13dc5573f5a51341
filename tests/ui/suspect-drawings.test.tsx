/** Ink, chain and matrix: density by share, every switch of a line drawn once, nothing off the sheet. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { chainPlan, SuspectChain, SuspectMatrix } from '@/lib/ui/drawings';
import { type Layout, narrowLayout, wideLayout } from '@/lib/ui/drawings/chain-layout';
import { chainLines } from '@/lib/ui/drawings/chain-plan';
import { density, hatch } from '@/lib/ui/drawings/ink';
import { fixtureChart } from '../core/fixture';
import { hosts } from './elements';
import { faults, render, textOf, unnamedWires } from './markup';

const known = {
  shares: new Map([
    ['terminal A3J4-7', 0.61],
    ['joint A3J4-7', 0.21],
    ['plug A3J4', 0.02],
  ]),
  onSwitch: new Map([['46', 0.09]]),
  seen: new Map([
    ['46', { as: 'some' as const, words: 'missed 5 of 20' }],
    ['44', { as: 'answers' as const, words: 'answers, 20 of 20' }],
  ]),
};
const nets = [...new Set(fixtureChart.circuits.flatMap((c) => c.nets))];

test('five steps of ink: 1.5, 5, 12, 25 and 50 %', () => {
  expect([0, 0.014, 0.015, 0.05, 0.12, 0.25, 0.5, 1].map(density)).toEqual([0, 0, 1, 2, 3, 4, 5, 5]);
});

test('hatching stays in its box, and denser steps have more lines', () => {
  const box = fc.record({
    x: fc.integer({ max: 50, min: 0 }),
    y: fc.integer({ max: 50, min: 0 }),
    w: fc.integer({ min: 5, max: 90 }),
    h: fc.integer({ min: 5, max: 90 }),
  });
  fc.assert(
    fc.property(box, fc.double({ min: 2, max: 12, noNaN: true }), (b, gap) => {
      const points = [...hatch(b, gap).matchAll(/[ML](\S+?) ([^ML]+)/g)].map(([, x, y]) => [Number(x), Number(y)] as const);
      for (const [x, y] of points) {
        expect(x).toBeGreaterThanOrEqual(b.x - 0.01);
        expect(x).toBeLessThanOrEqual(b.x + b.w + 0.01);
        expect(y).toBeGreaterThanOrEqual(b.y - 0.01);
        expect(y).toBeLessThanOrEqual(b.y + b.h + 0.01);
      }
    }),
  );
  const lines = (gap: number) => hatch({ x: 0, y: 0, w: 44, h: 26 }, gap).split('M').length;
  expect(lines(3)).toBeGreaterThan(lines(7));
});

describe.each(nets)('%s', (net) => {
  const plan = chainPlan(fixtureChart, net, known);
  const numbers = fixtureChart.circuits.filter((c) => c.nets.includes(net)).map((c) => c.number);
  test.each([
    ['wide', wideLayout(plan)],
    ['narrow', narrowLayout(plan)],
  ] as [string, Layout][])('%s: every switch of the line once, in its place on the sheet, none on another', (_, layout) => {
    expect(layout.switches.map((s) => s.node.number).sort()).toEqual([...numbers].sort());
    for (const { x, y } of [...layout.switches, ...layout.splices, ...layout.boxes]) {
      expect(x).toBeGreaterThanOrEqual(0);
      expect(x).toBeLessThan(layout.width);
      expect(y).toBeGreaterThanOrEqual(0);
      expect(y).toBeLessThan(layout.height);
    }
    const spots = layout.switches.map(({ x, y }) => `${Math.round(x)} ${Math.round(y)}`);
    expect(new Set(spots).size).toBe(spots.length);
  });
  test('drawn: nothing that the policy refuses, every wire named, every part in words', () => {
    const html = render(<SuspectChain plan={plan} />);
    expect(faults(html)).toEqual([]);
    expect(unnamedWires(html)).toEqual([]);
    const text = textOf(html);
    for (const { what } of chainLines(plan)) expect(text).toContain(what.trim());
  });
});

test('row 6: joint, suspected plug and contact in order, then the splice with its branches, what was seen at its switch', () => {
  const plan = chainPlan(fixtureChart, 'switch-row.6', known);
  const tap = plan.taps.find((t) => t.pin === 'A3J4-7');
  expect(tap?.parts.map((p) => [p.name, p.share])).toEqual([
    ['Joint', 0.21],
    ['Plug', 0.02],
    ['Contact', 0.61],
  ]);
  const spinner = chainLines(plan).find((l) => l.what.startsWith('46 '));
  expect(spinner).toMatchObject({ seen: 'missed 5 of 20', share: 0.09 });
  expect(chainLines(plan).some((l) => l.seen === 'not tried')).toBe(true);
});

test('the matrix says its numbers: no share and no reading by ink or shape alone', () => {
  const html = render(<SuspectMatrix chart={fixtureChart} known={known} onLine={new Map([['switch-row.6', 0.91]])} />);
  expect(faults(html)).toEqual([]);
  expect(unnamedWires(html)).toEqual([]);
  const text = textOf(html);
  for (const said of [
    'Row 6, grey/orange 91 %',
    '46 Spinner 9 %, missed 5 of 20',
    '44 Right sling answers, 20 of 20',
    'misses some',
    'from 50 %',
  ])
    expect(text).toContain(said);
  const solid = hosts(<SuspectMatrix chart={fixtureChart} known={known} onLine={new Map([['switch-row.6', 0.91]])} />).filter(
    (h) => h.type === 'rect' && String(h.props.className).includes('solid'),
  );
  expect(solid.length).toBeGreaterThanOrEqual(2); // the head of row 6 in both forms
});
