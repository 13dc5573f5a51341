/** What a person would see: each kind of test carried out on the simulated circuit, with the errors that people and meters make. */
import { type Errors, errors as usual } from './errors';
import { look, plug } from './looks';
import { diodeRange, ohmsBetween, probe } from './measure';
import type { Network } from './network';
import { conducting, levels, type ScanOptions, scan, shownBy } from './solve';
import type { Physical, SimOutcome, SimTest } from './types';
import { ohms as healthy } from './values';
import { ground, type Wiring } from './wiring';
import { indexOf, netWith, presentNow, show, type World } from './world';

type Of<K extends SimTest['kind']> = Extract<SimTest, { kind: K }>;
const badOhms = 100; // a path of more than this is called bad
const typicalOhms = 0.5; // what somebody reads who has the probes on something else
const shortOhms = 10;
const clearOhms = 100_000; // both limits of a short test: fault model §9, common practice

/** Carries a test out. Throws for a switch, pin or line that the chart does not have. */
export function answer(w: World, test: SimTest, errors: Errors = usual): SimOutcome {
  const flip = (right: boolean) => (w.random.chance(errors.result) ? !right : right);
  switch (test.kind) {
    case 'press':
      return press(w, test, errors);
    case 'rest':
      return { kind: 'rest', shown: withBalls(w, show(netWith(w, presentNow(w)), []), errors) };
    case 'hold':
      return { kind: 'hold', shown: show(netWith(w, presentNow(w)), test.switches).map((n) => misread(w, n, errors)) };
    case 'unplugged-rest': {
      const { net } = netWith(w, presentNow(w));
      return { kind: 'unplugged-rest', shown: shownBy(net, new Set(), { plugged: false }) };
    }
    case 'bridge':
      return { kind: 'bridge', registers: flip(bridge(w, test)) };
    case 'jumper':
    case 'jumper-diode':
      return { kind: test.kind, registers: flip(jumper(w, test.switch, test.kind === 'jumper-diode')) };
    case 'continuity': {
      const found = continuity(w, test);
      const right = found <= badOhms;
      if (flip(true)) return { kind: 'continuity', good: right, ohms: found };
      return { kind: 'continuity', good: !right, ohms: right ? Number.POSITIVE_INFINITY : typicalOhms };
    }
    case 'diode': {
      const reads = diode(w, test.switch);
      return { kind: 'diode', reads: flip(true) ? reads : reads === 'good' ? 'open' : 'good' };
    }
    case 'wiggle':
      return { kind: 'wiggle', saw: wiggle(w, test, errors) };
    case 'joint':
      pinOf(w.wiring, test.pin);
      return { kind: 'joint', looks: look(w, test.pin, errors) };
    case 'parted':
      pinOf(w.wiring, test.pin);
      return { kind: 'parted', looks: look(w, test.pin, errors) === 'sound' ? 'sound' : 'dark' };
    case 'ohms':
    case 'middle': {
      const { kind } = test;
      const found = test.kind === 'ohms' ? lineOhms(w, test.lines) : middleOhms(w, test.switch);
      const reads = found < shortOhms ? 'short' : found > clearOhms ? 'clear' : 'between';
      if (flip(true)) return { kind, reads, ohms: found };
      return reads === 'clear' ? { kind, reads: 'short', ohms: typicalOhms } : { kind, reads: 'clear', ohms: Number.POSITIVE_INFINITY };
    }
    case 'emitter': {
      const glows = !presentNow(w).some(({ what }) => darkens(w.wiring, what, test.switch));
      return { kind: 'emitter', glows: w.random.chance(errors.emitter) ? !glows : glows };
    }
    case 'plug':
      return { kind: 'plug', looks: plug(w, test.header, errors) };
    case 'average':
      return { kind: 'average', volts: average(w, test.line) * (1 + errors.volts * (2 * w.random.next() - 1)) };
  }
}

function press(w: World, { switch: number, times, how }: Of<'press'>, errors: Errors): SimOutcome {
  let missed = 0;
  const others = new Set<string>();
  for (let i = 0; i < times; i++) {
    const known = netWith(w, presentNow(w, how));
    const before = show(known, []);
    const shown = show(known, w.random.chance(errors.misPress) ? [] : [number]);
    const registers = shown.includes(number);
    const slip = w.random.chance(errors.misRead);
    if (registers === slip) missed++;
    if (registers && slip) others.add(misread(w, number, { ...errors, misRead: 1 }));
    for (const n of shown) if (n !== number && !before.includes(n)) others.add(n);
  }
  return { kind: 'press', switch: number, presses: times, missed, others: [...others].sort() };
}

/** The number, or now and then that of a switch next to it in the list. */
function misread(w: World, number: string, errors: Errors): string {
  if (!w.random.chance(errors.misRead)) return number;
  const i = w.wiring.contact.get(number) ?? 0;
  return w.wiring.contacts[i + (i === 0 || (i + 1 < w.wiring.contacts.length && w.random.chance(0.5)) ? 1 : -1)]?.number ?? number;
}
const withBalls = (w: World, shown: readonly string[], errors: Errors): string[] =>
  w.wiring.contacts
    .map((c) => c.number)
    .filter((n) => shown.includes(n) || w.random.chance(errors.onIt))
    .concat(shown.filter((n) => !w.wiring.contact.has(n)));

/** Whether the cell of two lines reads closed. */
function cellReads(net: Network, column: number, row: number, closed: readonly number[], options: ScanOptions): boolean {
  const w = net.wiring;
  return scan(net, closed, options).closed[w.columns.indexOf(column) * w.rows.length + w.rows.indexOf(row)] === 1;
}

/** A diode lead the right way round for the design. */
const lead = (w: Wiring, columnNode: number, rowNode: number) =>
  w.chart.design.matrix.polarity === 'strobe-low' ? { anode: rowNode, cathode: columnNode } : { anode: columnNode, cathode: rowNode };

function pinOf(w: Wiring, name: string) {
  const pin = w.pins.get(name);
  if (!pin || pin.line < 0) throw new Error(`The simulator does not know pin ${name} of a switch line.`);
  return pin;
}

function bridge(w: World, { columnPin, rowPin, at = 'pin' }: Of<'bridge'>): boolean {
  const [column, row] = [pinOf(w.wiring, columnPin), pinOf(w.wiring, rowPin)];
  const taps = [column, row].flatMap((pin) => w.wiring.chart.taps.get(pin.net) ?? []);
  const off = taps.map((tap): Physical => ({ does: 'open', at: { place: 'pin', pin: tap.pin } }));
  const { net } = netWith(w, presentNow(w), off);
  const end = at === 'board' ? 'joint' : 'pin';
  const diodes = [lead(w.wiring, column[end], row[end])];
  return cellReads(net, column.line, row.line, conducting(net, new Set()), { diodes, lines: [column.line, row.line] });
}

function jumper(w: World, number: string, overDiode: boolean): boolean {
  const i = indexOf(w.wiring, number);
  const c = w.wiring.contacts[i]!;
  const { net } = netWith(w, presentNow(w));
  const lines = [c.column, c.row];
  const across = [{ a: c.ends[0], b: c.ends[1], ohms: healthy.contact }];
  const closed = conducting(net, new Set());
  if (c.kind === 'direct') return scan(net, closed, { links: across, lines }).direct.has(i);
  if (overDiode) return cellReads(net, c.column, c.row, closed, { diodes: [lead(w.wiring, c.columnLug, c.rowLug)], lines });
  return cellReads(net, c.column, c.row, closed, { links: across, diodesOf: [i], lines });
}

/** Contacts that conduct in a machine that is off: blades and the like; optical switches do not. */
const conductingOff = (net: Network) => conducting(net, new Set()).filter((i) => !net.wiring.contacts[i]!.opto);

function continuity(w: World, { pin, switch: number, from = 'pin' }: Of<'continuity'>): number {
  const at = pinOf(w.wiring, pin);
  const c = w.wiring.contacts[indexOf(w.wiring, number)]!;
  const { net } = netWith(w, presentNow(w));
  const red = from === 'board' ? at.joint : from === 'pin' ? at.pin : at.front;
  const black = at.line === c.row ? c.rowLug : c.columnLug;
  return ohmsBetween(net, { red, black, lines: [at.line], closed: conductingOff(net), plugged: from !== 'terminal' });
}

type DiodeReads = Extract<SimOutcome, { kind: 'diode' }>['reads'];
function diode(w: World, number: string): DiodeReads {
  const i = indexOf(w.wiring, number);
  const c = w.wiring.contacts[i]!;
  if (c.kind === 'direct') throw new Error(`Direct switch ${number} has no diode.`);
  const { net } = netWith(w, presentNow(w));
  const rest = { lines: [c.column, c.row], closed: conductingOff(net), diodesOf: [i], plugged: false };
  const sees = (red: number, black: number) => {
    const volts = probe(net, { ...rest, red, black }, diodeRange);
    return volts < 0.1 ? 'short' : volts > 2.5 ? 'nothing' : volts > 0.4 && volts < 0.8 ? 'junction' : 'odd';
  };
  const [forward, backward] = [sees(c.anode, c.cathode), sees(c.cathode, c.anode)];
  if (forward === 'short' || backward === 'short') return 'short';
  if (forward === 'junction' && backward === 'nothing') return 'good';
  if (forward === 'nothing') return backward === 'nothing' ? 'open' : 'reversed';
  return 'odd';
}

function wiggle(w: World, { pin, switch: number }: Of<'wiggle'>, errors: Errors): 'steady' | 'drops-out' | 'never-registers' {
  const reads = (faults: World['faults']) => show(netWith(w, faults), [number]).includes(number);
  const lasting = w.faults.filter((fault) => !fault.comesAndGoes);
  if (!reads(lasting)) return 'never-registers';
  const stirred = w.faults.filter((fault) => {
    if (!fault.comesAndGoes) return true;
    return w.random.chance(isAt(fault.what, pin) ? errors.wiggleFinds : fault.comesAndGoes.hand * errors.wiggleElsewhere);
  });
  return reads(stirred) && !w.random.chance(errors.result) ? 'steady' : 'drops-out';
}
const isAt = (what: Physical, pin: string): boolean =>
  (what.does === 'open' || what.does === 'resistance') &&
  'pin' in what.at &&
  what.at.pin === pin &&
  ['joint', 'pin', 'terminal', 'inline', 'inline-crimp'].includes(what.at.place);

function lineOhms(w: World, lines: readonly string[]): number {
  const { net } = netWith(w, presentNow(w));
  const closed = conductingOff(net);
  const frontsOf = (id: string) =>
    (w.wiring.chart.taps.get(id) ?? []).map((tap) => pinOf(w.wiring, tap.pin)).map((pin) => ({ node: pin.front, line: pin.line }));
  const others = lines[1] === undefined ? [{ node: ground, line: -1 }] : frontsOf(lines[1]);
  const found = frontsOf(lines[0] ?? '').flatMap((a) =>
    others.flatMap((b) =>
      [
        [a.node, b.node],
        [b.node, a.node],
      ].map(([red, black]) => ohmsBetween(net, { red: red!, black: black!, lines: [a.line, b.line], closed, plugged: false })),
    ),
  );
  return Math.min(Number.POSITIVE_INFINITY, ...found);
}

function middleOhms(w: World, number: string): number {
  const i = indexOf(w.wiring, number);
  const c = w.wiring.contacts[i]!;
  if (c.kind === 'direct') throw new Error(`Direct switch ${number} has no diode.`);
  const { net } = netWith(w, presentNow(w));
  const rest = { lines: [c.column, c.row], closed: conductingOff(net), diodesOf: [i], plugged: false };
  return Math.min(ohmsBetween(net, { ...rest, red: c.middle, black: ground }), ohmsBetween(net, { ...rest, red: ground, black: c.middle }));
}

const darkens = (w: Wiring, what: Physical, number: string): boolean =>
  (what.does === 'opto-dark' && what.switch === number && what.part === 'emitter') ||
  (what.does === 'emitters-off' && w.contacts[indexOf(w, number)]!.emitterSupply === what.supply);

/** Mean over one scan at the first header pin of the line, where a probe gets at it, d.c. A floating column is loaded by hand so that it has a level. */
function average(w: World, id: string): number {
  const line = w.wiring.line.get(id);
  if (line === undefined) throw new Error(`The simulator does not know the line ${id}.`);
  const { net } = netWith(w, presentNow(w));
  const { board, kind } = w.wiring.lines[line]!;
  const tap = w.wiring.chart.taps.get(id)?.[0];
  const node = (tap && w.wiring.pins.get(tap.pin)?.pin) ?? board;
  const level = levels(w.wiring);
  const floats = kind === 'column' && w.wiring.chart.design.matrix.idle === 'float';
  const watch = [{ node, ...(floats && { load: { volts: level.idle, ohms: healthy.columnLoad } }) }];
  const found = scan(net, conducting(net, new Set()), { watch, lines: [line] });
  return found.watched.reduce((sum, [volts = 0]) => sum + volts, 0) / found.watched.length;
}
