/** Each test of the bench on faults whose answer is plain. Source: bench tests of the fault model, §9 and the expected values of §11. */
import { describe, expect, it } from 'vitest';
import { answer } from './bench';
import { grid } from './charts';
import { noErrors } from './errors';
import { random } from './random';
import type { Physical, SimFault, SimTest } from './types';
import { wire } from './wiring';
import { world } from './world';

const wiring = wire(grid(4, 4));
const ask = (faults: SimFault[], test: SimTest, on = wiring) => answer(world(on, faults, random(1)), test, noErrors);
const hard = (...what: Physical[]): SimFault[] => what.map((one) => ({ what: one }));
const open = (at: Extract<Physical, { does: 'open' }>['at']) => hard({ does: 'open', at });

describe('switch test', () => {
  it('presses', () => {
    expect(ask([], { kind: 'press', switch: '22', times: 3 })).toEqual({ kind: 'press', switch: '22', presses: 3, missed: 0, others: [] });
    const joined = hard({ does: 'join', lines: ['switch-row.2', 'switch-row.3'] });
    expect(ask(joined, { kind: 'press', switch: '22', times: 3 })).toMatchObject({ missed: 0, others: ['23'] });
    expect(ask(open({ place: 'contact', switch: '22' }), { kind: 'press', switch: '22', times: 4 })).toMatchObject({ missed: 4 });
  });
  it('an intermittent is missed as often as it is there', () => {
    const faults = [{ what: { does: 'open', at: { place: 'contact', switch: '22' } }, comesAndGoes: { hand: 0.3, ball: 1 } } as const];
    const hand = ask(faults, { kind: 'press', switch: '22', times: 2000 });
    expect(hand.kind === 'press' && Math.abs(hand.missed / 2000 - 0.3)).toBeLessThan(0.04); // four standard deviations
    expect(ask(faults, { kind: 'press', switch: '22', times: 50, how: 'ball' })).toMatchObject({ missed: 50 });
  });
  it('rest and unplugged rest: a short in the harness clears, one on the board stays', () => {
    const row = ['12', '22', '32', '42'];
    for (const where of ['harness', 'board'] as const) {
      const faults = hard({ does: 'to-ground', line: 'switch-row.2', where });
      expect(ask(faults, { kind: 'rest' })).toEqual({ kind: 'rest', shown: row });
      expect(ask(faults, { kind: 'unplugged-rest' })).toEqual({ kind: 'unplugged-rest', shown: where === 'board' ? row : [] });
    }
    const input = hard({ does: 'input-reads', line: 'switch-row.2', reads: 'closed' });
    expect(ask(input, { kind: 'unplugged-rest' })).toMatchObject({ shown: row });
  });
});

describe('diode lead and jumpers', () => {
  const bridge = { kind: 'bridge', columnPin: 'A1J1-2', rowPin: 'A1J2-2' } as const;
  it('the bridge finds the board good or bad from the pins inward', () => {
    expect(ask([], bridge)).toMatchObject({ registers: true });
    expect(ask(open({ place: 'terminal', pin: 'A1J1-2' }), bridge)).toMatchObject({ registers: true });
    expect(ask(open({ place: 'driver', line: 'switch-column.2' }), bridge)).toMatchObject({ registers: false });
    expect(ask(open({ place: 'joint', pin: 'A1J2-2' }), bridge)).toMatchObject({ registers: false });
    expect(ask(open({ place: 'joint', pin: 'A1J2-2' }), { ...bridge, at: 'board' })).toMatchObject({ registers: true });
  });
  it.each<[string, SimFault[], boolean, boolean]>([
    ['contact', open({ place: 'contact', switch: '22' }), true, true],
    ['diode', open({ place: 'diode', switch: '22' }), false, true],
    ['diode reversed', hard({ does: 'diode-reversed', switch: '22' }), false, true],
    ['lug', open({ place: 'lug', switch: '22', side: 'row' }), false, false],
    ['nothing', [], true, true],
  ])('jumpers: %s', (_, faults, contact, both) => {
    expect(ask(faults, { kind: 'jumper', switch: '22' })).toMatchObject({ registers: contact });
    expect(ask(faults, { kind: 'jumper-diode', switch: '22' })).toMatchObject({ registers: both });
  });
  it('jumpers follow the polarity and the end of the diode', () => {
    for (const matrix of [{ polarity: 'strobe-high' }, { diodeEnd: 'row-contact' }] as const) {
      const other = wire(grid(3, 3, matrix));
      expect(ask([], { kind: 'jumper', switch: '22' }, other)).toMatchObject({ registers: true });
      expect(ask(open({ place: 'diode', switch: '22' }), { kind: 'jumper-diode', switch: '22' }, other)).toMatchObject({ registers: true });
    }
  });
});

describe('meter', () => {
  const continuity = (pin: string, number: string, from?: 'terminal') =>
    ({ kind: 'continuity', pin, switch: number, ...(from && { from }) }) as const;
  it('a step of ohms localises the hop', () => {
    const broken = open({ place: 'segment', pin: 'A1J1-2', to: '23' });
    expect(ask(broken, continuity('A1J1-2', '22'))).toMatchObject({ good: true });
    expect(ask(broken, continuity('A1J1-2', '23'))).toMatchObject({ good: false, ohms: Number.POSITIVE_INFINITY });
    expect(ask(broken, continuity('A1J2-3', '23'))).toMatchObject({ good: true });
    const spring = open({ place: 'pin', pin: 'A1J1-2' });
    expect(ask(spring, continuity('A1J1-2', '22'))).toMatchObject({ good: false });
    expect(ask(spring, continuity('A1J1-2', '22', 'terminal'))).toMatchObject({ good: true });
  });
  it('reads ohms: under 1 good, a resistance as it is', () => {
    const healthy = ask([], continuity('A1J1-2', '24'));
    expect(healthy.kind === 'continuity' && healthy.ohms).toBeLessThan(1);
    const film = ask(hard({ does: 'resistance', at: { place: 'terminal', pin: 'A1J1-2' }, ohms: 220 }), continuity('A1J1-2', '21'));
    expect(film).toMatchObject({ good: false });
    expect(film.kind === 'continuity' && film.ohms).toBeCloseTo(220, 0);
  });
  it.each<[string, SimFault[], string]>([
    ['good', [], 'good'],
    ['open', open({ place: 'diode', switch: '22' }), 'open'],
    ['short', hard({ does: 'diode-bypassed', switch: '22' }), 'short'],
    ['reversed', hard({ does: 'diode-reversed', switch: '22' }), 'reversed'],
  ])('diode: %s', (_, faults, reads) => {
    for (const on of [wiring, wire(grid(3, 3, { polarity: 'strobe-high' })), wire(grid(3, 3, { diodeEnd: 'row-contact' }))])
      expect(ask(faults, { kind: 'diode', switch: '22' }, on)).toMatchObject({ reads });
  });
  it('line to ground and line to line', () => {
    const short = hard({ does: 'to-ground', line: 'switch-column.2' });
    expect(ask(short, { kind: 'ohms', lines: ['switch-column.2'] })).toMatchObject({ reads: 'short' });
    expect(ask(short, { kind: 'ohms', lines: ['switch-column.2', 'switch-column.3'] })).toMatchObject({ reads: 'clear' });
    const both = hard({ does: 'bypass-both', switch: '23' });
    expect(ask(both, { kind: 'ohms', lines: ['switch-column.2', 'switch-row.3'] })).toMatchObject({ reads: 'short' });
    expect(ask(both, { kind: 'ohms', lines: ['switch-column.2'] })).toMatchObject({ reads: 'clear' });
    const stuck = hard({ does: 'contact-closed', switch: '23' });
    expect(ask(stuck, { kind: 'ohms', lines: ['switch-column.2', 'switch-row.3'] })).toMatchObject({ reads: 'between' }); // one junction
    const board = hard({ does: 'to-ground', line: 'switch-column.2', where: 'board' });
    expect(ask(board, { kind: 'ohms', lines: ['switch-column.2'] })).toMatchObject({ reads: 'clear' });
  });
  // Column average VC(1 − 1/N) + Vlow/N: 12 V, 8 columns: 10.5 V; 5 V: 4.4 V. Row, one closed: 10.6 V. Source: fault model §11, derived.
  it('averages', () => {
    const volts = (matrix: object, line: string, faults: SimFault[] = []) => {
      const saw = ask(faults, { kind: 'average', line }, wire(grid(8, 8, matrix)));
      return saw.kind === 'average' ? saw.volts : Number.NaN;
    };
    expect(volts({ idle: 'pulled' }, 'switch-column.3')).toBeCloseTo(10.5, 1);
    expect(volts({ idle: 'pulled', rowSupplyVolts: 5 }, 'switch-column.3')).toBeCloseTo(4.4, 1);
    expect(volts({}, 'switch-column.3')).toBeCloseTo(10.5, 1);
    expect(volts({}, 'switch-row.3', hard({ does: 'contact-closed', switch: '33' }))).toBeCloseTo(10.6, 1);
    expect(volts({}, 'switch-column.3', hard({ does: 'driver-on', line: 'switch-column.3' }))).toBeLessThan(0.4);
    expect(volts({}, 'switch-column.3', open({ place: 'driver', line: 'switch-column.3' }))).toBeCloseTo(12, 1);
  });
});

describe('eyes and fingers', () => {
  it('a wiggle stirs what is at the tap and nothing else', () => {
    const at = (place: 'joint' | 'pin' | 'terminal', pin: string): SimFault[] => [
      { what: { does: 'open', at: { place, pin } }, comesAndGoes: { hand: 0, ball: 0 } },
    ];
    const wiggle = { kind: 'wiggle', pin: 'A1J1-2', switch: '22' } as const;
    for (const place of ['joint', 'pin', 'terminal'] as const) expect(ask(at(place, 'A1J1-2'), wiggle)).toMatchObject({ saw: 'drops-out' });
    expect(ask(at('joint', 'A1J1-3'), wiggle)).toMatchObject({ saw: 'steady' });
    expect(ask(open({ place: 'joint', pin: 'A1J1-2' }), wiggle)).toMatchObject({ saw: 'never-registers' });
  });
  it('looks', () => {
    expect(ask(open({ place: 'joint', pin: 'A1J1-2' }), { kind: 'joint', pin: 'A1J1-2' })).toMatchObject({ looks: 'cracked' });
    expect(ask(open({ place: 'terminal', pin: 'A1J1-2' }), { kind: 'joint', pin: 'A1J1-2' })).toMatchObject({ looks: 'dark' });
    expect(ask(open({ place: 'joint', pin: 'A1J1-2' }), { kind: 'joint', pin: 'A1J1-3' })).toMatchObject({ looks: 'sound' });
    const swapped = hard({ does: 'exchanged', lines: ['switch-row.2', 'switch-row.3'] });
    expect(ask(swapped, { kind: 'plug', header: 'A1J2' })).toMatchObject({ looks: 'exchanged' });
    expect(ask(swapped, { kind: 'plug', header: 'A1J1' })).toMatchObject({ looks: 'as-charted' });
    expect(ask(hard({ does: 'shifted', header: 'A1J2', by: 1 }), { kind: 'plug', header: 'A1J2' })).toMatchObject({ looks: 'shifted' });
  });
  it('a name that the chart does not have is a mistake of the caller', () => {
    expect(() => ask([], { kind: 'press', switch: '99', times: 1 })).toThrow('switch 99');
    expect(() => ask([], { kind: 'average', line: 'switch-row.9' })).toThrow('switch-row.9');
    expect(() => ask([], { kind: 'joint', pin: 'A9J9-9' })).toThrow('A9J9-9');
  });
});
