/** Each rule of the chart lint: a good chart, broken in just that way. The rules are trade judgement. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { lintDesign, lintMachine } from '@/lib/core/chart';
import type { BoardDesign, Machine } from '@/lib/core/chart/schema';
import type { Finding } from '@/lib/core/chart/types';
import type { TerminalPart } from '@/lib/core/parts/schema';
import { fixtureDesign, fixtureMachine } from './fixture';

type Case<T> = [rule: string, path: string, breakIt: (chart: T) => void, others?: string[]];

const terminal = (pitchMm: number, awg: [number, number]): TerminalPart => ({
  id: `T-${awg.join('-')}`,
  name: 'Terminal',
  pack: 1,
  kind: 'terminal',
  pitchMm,
  awg,
  insulationMm: [1, 3],
  plating: 'tin',
  amps: 3,
  ratedWires: 1,
  stripMm: 3.2,
});
const terminals = [terminal(2.54, [22, 30]), terminal(2.54, [18, 20]), terminal(3.96, [18, 24])];
const net = (d: BoardDesign, id: string) => d.nets.find((n) => n.id === id)!;
const header = (d: BoardDesign, id: string) => d.headers.find((h) => h.id === id)!;
const pin = (d: BoardDesign, id: string, position: number) => header(d, id).pins.find((p) => p.position === position)!;
const cell = (m: Machine, name: string) => m.switches.find((s) => s.name === name)!;

const designCases: Case<BoardDesign>[] = [
  ['board-twice', 'boards[4].designator', (d) => d.boards.push({ designator: 'A1', name: 'Again' })],
  ['line-twice', 'nets[1].id', (d) => d.nets.splice(1, 0, { ...d.nets[0]! })],
  ['line-twice', 'nets[17].number', (d) => Object.assign(net(d, 'direct.2'), { number: 1 })],
  ['line-without-tap', 'nets[8]', (d) => header(d, 'A3J4').pins.shift()],
  ['line-without-number', 'nets[3]', (d) => Object.assign(net(d, 'switch-column.4'), { number: undefined })],
  ['line-number-differs', 'nets[3].number', (d) => Object.assign(net(d, 'switch-column.4'), { number: 9 })],
  ['unknown-colour', 'nets[3].colour', (d) => Object.assign(net(d, 'switch-column.4'), { colour: 'mauve/yellow' })],
  [
    'unknown-colour',
    'headers[2].pins[0].wires[0].colour',
    (d) => Object.assign(pin(d, 'A3J4', 1), { wires: [{ colour: 'mauve' }] }),
    ['colour-differs'],
  ],
  ['header-without-board', 'headers[5].id', (d) => d.boards.pop()],
  ['header-twice', 'headers[6].id', (d) => d.headers.push({ ...header(d, 'A4J2') })],
  ['key-beyond-positions', 'headers[2].keys[1]', (d) => header(d, 'A3J4').keys.push(12)],
  ['pin-beyond-positions', 'headers[2].pins[9].position', (d) => Object.assign(header(d, 'A3J4'), { positions: 10 })],
  ['wire-on-key', 'headers[2].pins[5].position', (d) => header(d, 'A3J4').keys.push(7)],
  ['two-lines-on-pin', 'headers[2].pins[10]', (d) => header(d, 'A3J4').pins.push({ position: 7, net: 'switch-row.5' })],
  ['pin-twice', 'headers[2].pins[10]', (d) => header(d, 'A3J4').pins.push({ position: 7, net: 'switch-row.6' })],
  [
    'unknown-line',
    'headers[2].pins[10].net',
    (d) => {
      header(d, 'A3J4').positions = 12;
      header(d, 'A3J4').pins.push({ position: 12, net: 'other.none' });
    },
  ],
  ['many-wires', 'headers[2].pins[0].wires', (d) => Object.assign(pin(d, 'A3J4', 1), { wires: [{ awg: 28 }, { awg: 28 }, { awg: 28 }] })],
  ['colour-differs', 'headers[2].pins[0].wires[0].colour', (d) => Object.assign(pin(d, 'A3J4', 1), { wires: [{ colour: 'pink' }] })],
  ['same-colour', 'headers[2].pins[6]', (d) => Object.assign(net(d, 'switch-row.7'), { colour: 'grey/orange' })],
  ['gauge-without-terminal', 'headers[2].pins[0]', (d) => Object.assign(net(d, 'switch-row.1'), { awg: 16 })],
  ['gauge-without-terminal', 'headers[2].pins[0]', (d) => Object.assign(pin(d, 'A3J4', 1), { wires: [{ awg: 18 }, { awg: 18 }] })],
  [
    'exchangeable',
    'headers[4]',
    (d) => {
      Object.assign(header(d, 'A3J6'), { positions: 11, keys: [4] });
      header(d, 'A3J6').pins = header(d, 'A3J6').pins.map((p) => (p.position === 4 ? { ...p, position: 2 } : p));
    },
  ],
];

const machineCases: Case<Machine>[] = [
  ['other-design', 'design', (m) => Object.assign(m, { design: 'SB-1' })],
  [
    'number-twice',
    'switches[24]',
    (m) => m.switches.push({ ...cell(m, 'Spinner'), column: 5, row: 7, name: 'Second', number: '46' }),
    ['number-off-scheme'],
  ],
  ['number-twice', 'direct[1].number', (m) => Object.assign(m.direct[1]!, { number: 'D1' }), ['chain-unknown-switch', 'chain-off-line']],
  ['number-twice', 'loads[1].number', (m) => Object.assign(m.loads[1]!, { number: 'L1' })],
  [
    'direct-in-matrix',
    'direct[0].number',
    (m) => {
      m.direct[0]!.number = '55';
      m.chains.find((c) => c.tap === 'A3J5-4')!.steps = [{ switch: '55' }];
    },
  ],
  [
    'number-off-scheme',
    'switches[23].number',
    (m) => {
      cell(m, 'Jetty lane').number = '99';
      for (const c of m.chains) c.steps = c.steps.map((s) => ('switch' in s && s.switch === '86' ? { switch: '99' } : s));
    },
  ],
  ['cell-twice', 'switches[24]', (m) => m.switches.push({ ...cell(m, 'Spinner'), name: 'Second' })],
  ['lamp-cell-twice', 'lamps[3]', (m) => m.lamps.push({ ...m.lamps[0]!, name: 'Second' })],
  ['cell-without-line', 'switches[24].column', (m) => m.switches.push({ ...cell(m, 'Spinner'), column: 9, name: 'Outside' })],
  ['cell-without-line', 'lamps[3].row', (m) => m.lamps.push({ column: 1, row: 7, name: 'Outside' })],
  ['unknown-line', 'loads[0].net', (m) => Object.assign(m.loads[0]!, { net: 'load.9' })],
  ['line-of-other-kind', 'loads[0].supply', (m) => Object.assign(m.loads[0]!, { supply: 'ground' })],
  ['line-of-other-kind', 'illumination[0].back', (m) => Object.assign(m.illumination[0]!, { back: 'supply.coil' })],
  ['input-twice', 'direct[2].net', (m) => m.direct.push({ ...m.direct[1]!, number: 'D3', name: 'Second' })],
  ['chain-without-tap', 'chains[20].tap', (m) => m.chains.push({ tap: 'A3J4-4', steps: [{ switch: '46' }] })],
  ['chain-unknown-switch', 'chains[7]', (m) => m.chains[7]!.steps.push({ switch: '77' })],
  ['chain-off-line', 'chains[7]', (m) => m.chains[7]!.steps.push({ switch: '46' })],
  ['chain-twice', 'chains[10]', (m) => m.chains[10]!.steps.push({ switch: '46' })],
  ['chain-twice', 'chains[5]', (m) => m.chains[5]!.steps.push({ switch: '46' })],
  ['found-twice', 'asFound[1].id', (m) => Object.assign(m.asFound[1]!, { id: m.asFound[0]!.id })],
  ['found-nowhere', 'asFound[0].place', (m) => Object.assign(m.asFound[0]!, { place: {} })],
  ['found-unknown-switch', 'asFound[0].place.switch', (m) => Object.assign(m.asFound[0]!.place, { switch: '99' })],
  ['found-unknown-line', 'asFound[0].place.net', (m) => Object.assign(m.asFound[0]!.place, { net: 'switch-row.9' })],
  ['found-unknown-pin', 'asFound[1].place.pin', (m) => Object.assign(m.asFound[1]!.place, { pin: 'A1J2-10' })],
  ['key-not-as-found', 'asFound[1].place.pin', (m) => Object.assign(m.asFound[1]!.place, { pin: 'A1J2-3' })],
  ['unknown-colour', 'asFound[0].wire', (m) => Object.assign(m.asFound[0]!, { wire: 'pink/mauve' })],
];

function check(found: Finding[], rule: string, path: string, others: string[] = []) {
  expect([...new Set(found.map((f) => f.rule))].filter((r) => !others.includes(r))).toEqual([rule]);
  expect(found.filter((f) => f.rule === rule).map((f) => f.path)).toEqual([path]);
  for (const { message, mend } of found) {
    expect(message).toMatch(/^\S.*[.]$/);
    expect(mend).toMatch(/^[A-Z].*[.]$/);
    expect(message).not.toContain('undefined');
  }
}

describe('lint', () => {
  it('finds nothing in a good chart', () => {
    expect(lintDesign(fixtureDesign, terminals)).toEqual([]);
    expect(lintMachine(fixtureMachine, fixtureDesign)).toEqual([]);
  });

  it.each(designCases)('design: %s at %s', (rule, path, breakIt, others) => {
    const broken = structuredClone(fixtureDesign);
    breakIt(broken);
    check(lintDesign(broken, terminals), rule, path, others);
  });

  it.each(machineCases)('machine: %s at %s', (rule, path, breakIt, others) => {
    const broken = structuredClone(fixtureMachine);
    breakIt(broken);
    check(lintMachine(broken, fixtureDesign), rule, path, others);
  });

  it('machine: direct-without-ground and digits-run-out, which the board decides', () => {
    const noGround = structuredClone(fixtureDesign);
    for (const h of noGround.headers) h.pins = h.pins.filter((p) => !p.net.startsWith('ground'));
    check(lintMachine(fixtureMachine, noGround), 'direct-without-ground', 'direct');
    const wide = structuredClone(fixtureDesign);
    wide.nets.push({ ...net(wide, 'switch-column.8'), id: 'switch-column.11', number: 11 });
    check(lintMachine(fixtureMachine, wide), 'digits-run-out', 'numbering.order');
  });

  it('allows what is normal: parallel contacts, two wires of one line, commons of one colour, taps of one line', () => {
    const parallel = structuredClone(fixtureMachine);
    cell(parallel, 'Spinner').parallel = true;
    parallel.switches.push({ ...cell(parallel, 'Spinner'), name: 'Second contact' });
    expect(lintMachine(parallel, fixtureDesign).map((f) => [f.rule, f.level])).toEqual([['cell-twice', 'warning']]);
    const twoGrounds = structuredClone(fixtureDesign);
    net(twoGrounds, 'ground.power').colour = 'black';
    pin(twoGrounds, 'A3J4', 1).wires = [{ awg: 26 }, { awg: 26 }];
    expect(lintDesign(twoGrounds, terminals)).toEqual([]);
  });

  it('says nothing of gauges without a catalogue', () => {
    const thick = structuredClone(fixtureDesign);
    net(thick, 'switch-row.1').awg = 12;
    expect(lintDesign(thick)).toEqual([]);
  });

  it('has a case for every rule in the code', () => {
    const source = ['lint-design', 'lint-machine'].map((f) =>
      readFileSync(new URL(`../../lib/core/chart/${f}.ts`, import.meta.url), 'utf8'),
    );
    const rules = source.join('\n').matchAll(/(?:error|warning)\(\s*'([a-z-]+)'/g);
    const tested = new Set([...designCases, ...machineCases].map(([rule]) => rule).concat('direct-without-ground', 'digits-run-out'));
    expect([...rules].map(([, rule]) => rule).filter((rule) => !tested.has(rule!))).toEqual([]);
  });
});
