/** Each rule of the chart lint: a good chart, broken in just that way. The rules are trade judgement. */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { lintDesign, lintMachine } from '@/lib/core/chart';
import type { BoardDesign, Machine, Pinned } from '@/lib/core/chart/schema';
import type { Finding } from '@/lib/core/chart/types';
import type { TerminalPart } from '@/lib/core/parts/schema';
import { inlineCases } from './chart-inline-cases';
import { fixtureDesign, fixtureMachine } from './fixture';

const seen = { on: '2025-11-02', by: 'Ines Okafor' };
const loads = (...numbers: number[]) => numbers.map((n) => ({ load: `L${n}` }));
const lamps = (...numbers: string[]) => numbers.map((lamp) => ({ lamp }));
/** A chain of grounds: direct switches and optical ones come back on it, others do not. */
const groundChain = (other: string) => ({
  tap: 'A3J4-11',
  steps: [{ splice: 'S9', branches: [[{ switch: 'D1' }, { switch: '75' }], [{ switch: other }]] }],
});

const photo = (n: number) => ({ picture: String(n).repeat(64), width: 1600, height: 1200, ...seen, on: '2025-11-02' });
const pinnedAt = (photos: number[], ...pins: Partial<Pinned>[]) => ({
  photos: photos.map(photo),
  pinned: pins.map((pin, i): Pinned => ({ id: `p${i}`, photo: photo(1).picture, at: [0.5, 0.5], ...pin })),
});

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
  [
    'pinned-unknown',
    'boardPinned[0].switch',
    (d) => {
      const { photos, pinned } = pinnedAt([1], { switch: '46' });
      Object.assign(d, { boardPhotos: photos, boardPinned: pinned });
    },
  ],
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
  ['bleeder-without-reservoir', 'nets[3].bleederOhms', (d) => Object.assign(net(d, 'switch-column.4'), { bleederOhms: 4700 })],
  ['strand-without-count', 'headers[2].pins[0].wires[0].strands', (d) => Object.assign(pin(d, 'A3J4', 1), { wires: [{ strandAwg: 32 }] })],
  [
    'strands-not-gauge', // 24 AWG is 7/32 (table of strandings in tests/reference/awg.json); 7/30 is nearly 22
    'headers[2].pins[0].wires[0].strands',
    (d) => Object.assign(pin(d, 'A3J4', 1), { wires: [{ strands: 7, strandAwg: 30 }] }),
  ],
  ['many-wires', 'headers[2].pins[0].wires', (d) => Object.assign(pin(d, 'A3J4', 1), { wires: [{ awg: 28 }, { awg: 28 }, { awg: 28 }] })],
  ['colour-differs', 'headers[2].pins[0].wires[0].colour', (d) => Object.assign(pin(d, 'A3J4', 1), { wires: [{ colour: 'pink' }] })],
  ['earth-colour', 'nets[3].colour', (d) => Object.assign(net(d, 'switch-column.4'), { colour: 'green/yellow' })],
  [
    'earth-colour',
    'headers[2].pins[0].wires[0].colour',
    (d) => Object.assign(pin(d, 'A3J4', 1), { wires: [{ colour: 'yellow/green' }] }),
    ['colour-differs'],
  ],
  ['line-kind-differs', 'nets[16].id', (d) => renameLine(d, 'direct.1', 'switch-row.9')],
  ['unknown-line', 'headers[2].beside[1]', (d) => Object.assign(header(d, 'A3J4'), { beside: ['supply.coil', 'supply.none'] })],
  ['fuse-above-wire', 'nets[24].fuse', (d) => Object.assign(net(d, 'supply.coil'), { fuse: 'F3, 20 A slow' })],
  ['fuse-above-wire', 'nets[24].fuse', (d) => Object.assign(pin(d, 'A1J2', 1), { wires: [{ awg: 28 }] }), ['gauge-without-terminal']],
  ['fuse-without-rating', 'nets[24].fuse', (d) => Object.assign(net(d, 'supply.coil'), { fuse: 'F3' })],
  ['nothing-reads', 'matrix.thresholdRatio', (d) => Object.assign(d.matrix, { thresholdRatio: 0.06 })],
  ['nothing-reads', 'matrix.thresholdRatio', (d) => Object.assign(d.matrix, { polarity: 'strobe-high', thresholdRatio: 0.95 })],
  ['nothing-reads', 'matrix.thresholdRatio', (d) => Object.assign(d.matrix, { rowSupplyVolts: 5, thresholdRatio: 0.28, driverVolts: 0.8 })],
  ['designator-form', 'boards[4].designator', (d) => d.boards.push({ designator: 'A05', name: 'Display board' })],
  ['designator-form', 'headers[5].id', (d) => Object.assign(header(d, 'A4J2'), { id: 'A4J02' })],
  ['designator-form', 'headers[5].id', (d) => Object.assign(header(d, 'A4J2'), { id: 'A4J0' })],
  ['could-be-turned', 'headers[4]', (d) => header(d, 'A3J6').keys.pop()],
  [
    'could-be-turned',
    'headers[0].keys',
    (d) => {
      header(d, 'A1J2').keys = [5];
      header(d, 'A1J2').pins = header(d, 'A1J2').pins.map((p) => (p.position === 5 ? { ...p, position: 3 } : p));
    },
  ],
  ['rows-and-numbering', 'headers[4].rows', (d) => Object.assign(header(d, 'A3J6'), { rows: 2 })],
  ['rows-and-numbering', 'headers[4].numbering', (d) => Object.assign(header(d, 'A3J6'), { numbering: 'zigzag' })],
  ['letters-unused', 'headers[4].skipLetters', (d) => Object.assign(header(d, 'A3J6'), { skipLetters: 'GIOQ' })],
  ['pin-too-thick', 'headers[4].pinMm', (d) => Object.assign(header(d, 'A3J6'), { pinMm: 3.96 })],
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

/** The same line under another name, its pins too. */
function renameLine(d: BoardDesign, from: string, to: string) {
  net(d, from).id = to;
  for (const h of d.headers) for (const p of h.pins) if (p.net === from) p.net = to;
}

const machineCases: Case<Machine>[] = [
  ['photo-twice', 'photos[1].picture', (m) => Object.assign(m, pinnedAt([1, 1]))],
  ['pinned-twice', 'pinned[1].id', (m) => Object.assign(m, pinnedAt([1], { switch: '46' }, { switch: '46', id: 'p0' }))],
  ['pinned-on-nothing', 'pinned[0].photo', (m) => Object.assign(m, pinnedAt([2], { switch: '46' }))],
  ['pinned-what', 'pinned[0]', (m) => Object.assign(m, pinnedAt([1], { switch: '46', load: 'L1' }))],
  ['pinned-what', 'pinned[0]', (m) => Object.assign(m, pinnedAt([1], {}))],
  ['pinned-unknown', 'pinned[1].switch', (m) => Object.assign(m, pinnedAt([1], { header: 'A3J4' }, { switch: '99' }))],
  ['other-design', 'design', (m) => Object.assign(m, { design: 'SB-1' })],
  [
    'number-twice',
    'switches[24].number',
    (m) => m.switches.push({ ...cell(m, 'Spinner'), column: 5, row: 7, name: 'Second', number: '46' }),
    ['number-off-scheme', 'off-chain'],
  ],
  ['number-twice', 'direct[1].number', (m) => Object.assign(m.direct[1]!, { number: 'D1' }), ['chain-unknown-switch', 'off-chain']],
  ['number-twice', 'switches[0].also[1]', (m) => Object.assign(m.switches[0]!, { also: ['T1', '46'] })],
  ['number-twice', 'direct[0].also[0]', (m) => Object.assign(m.direct[0]!, { also: ['D1'] })],
  ['number-twice', 'lamps[2]', (m) => Object.assign(m.lamps[0]!, { number: '21' }), ['number-off-scheme']],
  ['number-twice', 'loads[1].number', (m) => Object.assign(m.loads[1]!, { number: 'L1' })],
  ['number-twice', 'illumination[1].id', (m) => m.illumination.push({ ...m.illumination[0]!, name: 'Second' })],
  ['number-off-scheme', 'lamps[0].number', (m) => Object.assign(m.lamps[0]!, { number: '1' })],
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
  [
    'cell-without-line',
    'switches[24].column',
    (m) => m.switches.push({ ...cell(m, 'Spinner'), column: 9, name: 'Outside' }),
    ['off-chain'],
  ],
  ['cell-without-line', 'lamps[3].row', (m) => m.lamps.push({ column: 1, row: 7, name: 'Outside' })],
  ['unknown-line', 'loads[0].net', (m) => Object.assign(m.loads[0]!, { net: 'load.9' })],
  ['line-of-other-kind', 'loads[0].supply', (m) => Object.assign(m.loads[0]!, { supply: 'ground' })],
  ['line-of-other-kind', 'illumination[0].back', (m) => Object.assign(m.illumination[0]!, { back: 'supply.coil' })],
  ['input-twice', 'direct[2].net', (m) => m.direct.push({ ...m.direct[1]!, number: 'D3', name: 'Second' }), ['off-chain']],
  ['chain-without-tap', 'chains[20].tap', (m) => m.chains.push({ tap: 'A3J4-4', steps: [{ switch: '46' }] })],
  ['chain-unknown-switch', 'chains[7].steps[1].switch', (m) => m.chains[7]!.steps.push({ switch: '77' })],
  ['chain-unknown-load', 'chains[20].steps[1].load', (m) => m.chains.push({ tap: 'A1J2-1', steps: [...loads(1, 3), ...loads(2)] })],
  [
    'chain-unknown-load',
    'chains[20].steps[3].lamp',
    (m) => m.chains.push({ tap: 'A4J2-1', steps: lamps('11', '12', '12', '99') }),
    ['chain-twice'],
  ],
  ['chain-off-line', 'chains[7].steps[1].switch', (m) => m.chains[7]!.steps.push({ switch: '46' })],
  ['chain-off-line', 'chains[20].steps[0].load', (m) => m.chains.push({ tap: 'A2J3-1', steps: [...loads(2), ...loads(1)] })],
  ['chain-off-line', 'chains[20].steps[2].lamp', (m) => m.chains.push({ tap: 'A4J2-1', steps: lamps('11', '12', '21') })],
  ['chain-off-line', 'chains[20].steps[0].branches[1][0].switch', (m) => m.chains.push(groundChain('46'))],
  ['chain-twice', 'chains[5].steps[1].switch', (m) => m.chains[5]!.steps.push({ switch: '46' })],
  ['chain-twice', 'chains[20].steps[0].switch', (m) => m.chains.push({ tap: 'A3J5-2', steps: [{ switch: '86' }] })],
  ['ring', 'chains[10]', (m) => m.chains[10]!.steps.push({ switch: '46' })],
  ['tail-claimed-twice', 'chains[10].steps[1].switch', (m) => m.chains[10]!.steps.push({ switch: '76' })],
  ['off-chain', 'switches[13]', (m) => m.chains[15]!.steps.splice(4, 1)],
  ['off-chain', 'loads[1]', (m) => m.chains.push({ tap: 'A1J2-1', steps: loads(1) })],
  ['off-chain', 'lamps[1]', (m) => m.chains.push({ tap: 'A4J2-1', steps: lamps('11') })],
  ['designator-form', 'chains[20].tap', (m) => m.chains.push({ tap: 'A3J4-07', steps: [{ switch: '46' }] }), ['chain-without-tap']],
  ['unknown-line', 'switches[20].emitterSupply', (m) => Object.assign(cell(m, 'Beacon'), { emitterSupply: 'supply.none' })],
  ['opto-fields', 'switches[13].emitterSupply', (m) => Object.assign(cell(m, 'Spinner'), { emitterSupply: 'supply.coil' })],
  ['opto-fields', 'direct[0].optoBoard', (m) => Object.assign(m.direct[0]!, { optoBoard: 'Eye board' })],
  ['fuse-above-wire', 'loads[0].fuse', (m) => Object.assign(m.loads[0]!, { fuse: 'F9, 12 A slow' })],
  ['fuse-without-rating', 'loads[0].fuse', (m) => Object.assign(m.loads[0]!, { fuse: 'in the back box' })],
  ['fuse-differs', 'loads[0].fuse', (m) => Object.assign(m.loads[0]!, { fuse: 'F3, 5 A slow' })],
  ['load-without-fuse', 'illumination[0]', (m) => Object.assign(m.illumination[0]!, { fuse: undefined })],
  ['windings', 'loads[0].windings', (m) => Object.assign(m.loads[0]!, { kind: 'motor', windings: 'double' })],
  ['windings', 'loads[0].holdOhms', (m) => Object.assign(m.loads[0]!, { holdOhms: 90 })],
  ['windings', 'loads[0].holdOhms', (m) => Object.assign(m.loads[0]!, { windings: 'double', holdOhms: 5 })],
  ['no-flyback', 'loads[0].flyback', (m) => Object.assign(m.loads[0]!, { flyback: 'none' })],
  ['one-leg', 'illumination[0].back', (m) => Object.assign(m.illumination[0]!, { back: 'illumination.1' })],
  ['one-leg', 'illumination[0].taps', (m) => Object.assign(m.illumination[0]!, { taps: ['A1J2-6', 'A1J2-7'] })],
  ['string-unknown-tap', 'illumination[0].taps[2]', (m) => Object.assign(m.illumination[0]!, { taps: ['A1J2-6', 'A1J2-8', 'A1J2-3'] })],
  ['string-off-line', 'illumination[0].taps[2]', (m) => Object.assign(m.illumination[0]!, { taps: ['A1J2-6', 'A1J2-8', 'A1J2-1'] })],
  ['supply-differs', 'illumination[0].supply', (m) => Object.assign(m.illumination[0]!, { supply: 'dc' })],
  ['key-not-as-found', 'keysAsFound[0].pins', (m) => m.keysAsFound.push({ header: 'A3J4', pins: [5], plug: [4], ...seen })],
  ['key-not-as-found', 'keysAsFound[0].plug', (m) => m.keysAsFound.push({ header: 'A3J4', plug: [], ...seen })],
  [
    'key-beyond-positions',
    'keysAsFound[0].pins[1]',
    (m) => m.keysAsFound.push({ header: 'A3J4', pins: [4, 12], ...seen }),
    ['key-not-as-found'],
  ],
  ['found-unknown-header', 'keysAsFound[0].header', (m) => m.keysAsFound.push({ header: 'A3J9', pins: [5], ...seen })],
  ['found-nothing', 'keysAsFound[0]', (m) => m.keysAsFound.push({ header: 'A3J4', ...seen })],
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

  it('machine: a ground on another board only, a load without any fuse, a digit scheme in octal', () => {
    const far = structuredClone(fixtureDesign);
    for (const h of far.headers) if (h.id.startsWith('A3')) h.pins = h.pins.filter((p) => p.net !== 'ground');
    const found = lintMachine(fixtureMachine, far).map((f) => `${f.level} ${f.rule} ${f.path}`);
    expect(found).toEqual(['warning direct-without-ground direct[0].net', 'warning direct-without-ground direct[1].net']);
    const unfused = structuredClone(fixtureDesign);
    delete net(unfused, 'supply.coil').fuse;
    const bare = structuredClone(fixtureMachine);
    delete bare.loads[1]!.fuse;
    check(lintMachine(bare, unfused), 'load-without-fuse', 'loads[1]');
    const octal = structuredClone(fixtureMachine);
    octal.numbering.radix = 8;
    expect(lintMachine(octal, fixtureDesign).map((f) => f.rule)).toContain('digits-run-out');
  });

  it('design: a lock or a second row stops a plug from being turned; a soldered wire needs no terminal', () => {
    const keyless = structuredClone(fixtureDesign);
    for (const h of keyless.headers) Object.assign(h, { keys: [], lock: 'friction' });
    expect(lintDesign(keyless, terminals)).toEqual([]);
    for (const h of keyless.headers) Object.assign(h, { lock: undefined, rows: 2, numbering: 'per-row' });
    expect(lintDesign(keyless, terminals)).toEqual([]);
    const soldered = structuredClone(fixtureDesign);
    net(soldered, 'switch-row.1').awg = 12;
    Object.assign(header(soldered, 'A3J4'), { termination: 'soldered' });
    expect(lintDesign(soldered, terminals)).toEqual([]);
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
    const folder = new URL('../../lib/core/chart/', import.meta.url);
    const source = readdirSync(folder)
      .filter((f) => f.endsWith('.ts'))
      .map((f) => readFileSync(new URL(f, folder), 'utf8'));
    const rules = source.join('\n').matchAll(/\b(?:error|warning|information)\(\s*'([a-z-]+)'/g);
    const inlineRules = inlineCases.flatMap(([, , found]) => found.map((line) => line.split(' ')[1] ?? ''));
    const tested = new Set(
      [...designCases, ...machineCases].map(([rule]) => rule).concat('direct-without-ground', 'digits-run-out', ...inlineRules),
    );
    const all = [...new Set([...rules].map(([, rule]) => rule!))];
    expect(all.length).toBeGreaterThan(55);
    expect(all.filter((rule) => !tested.has(rule))).toEqual([]);
  });
});
