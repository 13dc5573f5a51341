/** The netlist of one moment: the wiring with the faults that are present in it. */
import type { Physical, Place } from './types';
import { ohms } from './values';
import { ground, placeKey, supply, type Wiring } from './wiring';

export interface Extra {
  a: number;
  b: number;
  ohms: number;
  /** A terminal on a pin: gone when the harness is unplugged. */
  mated: boolean;
}
/** A switch as the faults leave it. */
export interface SwitchState {
  contact: 'good' | 'closed' | 'open';
  light: 'good' | 'dark' | 'lit';
  diode: 'good' | 'bypassed' | 'reversed' | 'open';
  addedOhms: number; // in series with the contact
}
export interface Network {
  wiring: Wiring;
  faults: readonly Physical[];
  /** By edge; infinite where it is open. */
  ohms: Float64Array;
  /** Second node of each edge: faults of housings move it. */
  b: Int32Array;
  extras: readonly Extra[];
  /** Lines that every solution has to include. */
  always: ReadonlySet<number>;
  /** Switches that are not as made, by index. */
  switches: ReadonlyMap<number, SwitchState>;
  /** Switches whose middle node carries an extra. */
  middles: ReadonlySet<number>;
  /** Ohms of column drivers that are not as made, by line; infinite when dead. */
  drivers: ReadonlyMap<number, number>;
  stuckOn: ReadonlySet<number>;
  inputs: ReadonlyMap<number, 'closed' | 'open'>;
  pullOpen: ReadonlySet<number>;
  /** Column index that is driven when the scan asks for column `i`. */
  select(i: number): number;
  /** Emitter supplies that have failed. */
  dark: ReadonlySet<string>;
}

export const made: SwitchState = { contact: 'good', light: 'good', diode: 'good', addedOhms: 0 };

/** The netlist with these faults. Names that the chart does not know throw. */
export function network(wiring: Wiring, faults: readonly Physical[]): Network {
  const net = {
    wiring,
    faults,
    ohms: wiring.ohms,
    b: wiring.b,
    extras: [] as Extra[],
    always: new Set<number>(),
    switches: new Map<number, SwitchState>(),
    middles: new Set<number>(),
    drivers: new Map<number, number>(),
    stuckOn: new Set<number>(),
    inputs: new Map<number, 'closed' | 'open'>(),
    pullOpen: new Set<number>(),
    select: (i: number) => i,
    dark: new Set<string>(),
  };
  for (const fault of faults) apply(net, fault);
  return net;
}

type Building = { -readonly [K in keyof Network]: Network[K] } & {
  extras: Extra[];
  always: Set<number>;
  switches: Map<number, SwitchState>;
  middles: Set<number>;
  drivers: Map<number, number>;
  stuckOn: Set<number>;
  inputs: Map<number, 'closed' | 'open'>;
  pullOpen: Set<number>;
  dark: Set<string>;
};

const known = <T>(value: T | undefined, what: string): T => {
  if (value === undefined) throw new Error(`The simulator does not know ${what}.`);
  return value;
};
const lineOf = (w: Wiring, id: string) => known(w.line.get(id), `the line ${id}`);
const switchOf = (w: Wiring, number: string) => known(w.contact.get(number), `switch ${number}`);

function change(net: Building, number: string, to: Partial<SwitchState>): void {
  const i = switchOf(net.wiring, number);
  net.switches.set(i, { ...(net.switches.get(i) ?? made), ...to });
}
function join(net: Building, a: number, b: number, lines: readonly number[], mated = false): void {
  net.extras.push({ a, b, ohms: ohms.short, mated });
  for (const line of lines) net.always.add(line);
}

/** Where a short on a line sits: at its first terminal in the harness, or on the board. */
function pointOf(w: Wiring, id: string, where: 'harness' | 'board' | undefined): number {
  const line = w.lines[lineOf(w, id)]!;
  const tap = w.chart.taps.get(id)?.[0];
  const pin = tap && w.pins.get(tap.pin);
  if (!pin) return line.board;
  return where === 'board' ? pin.joint : pin.front;
}

function apply(net: Building, fault: Physical): void {
  const w = net.wiring;
  switch (fault.does) {
    case 'open':
      impede(net, fault.at, Number.POSITIVE_INFINITY);
      return;
    case 'resistance':
      impede(net, fault.at, fault.ohms);
      return;
    case 'driver-on':
      net.stuckOn.add(lineOf(w, fault.line));
      net.always.add(lineOf(w, fault.line));
      return;
    case 'to-ground':
    case 'to-supply': {
      const rail = fault.does === 'to-ground' ? ground : supply;
      join(net, pointOf(w, fault.line, fault.where), rail, [lineOf(w, fault.line)]);
      return;
    }
    case 'join': {
      const [a, b] = fault.lines.map((id) => pointOf(w, id, fault.where)) as [number, number];
      const lines = fault.lines.map((id) => lineOf(w, id));
      join(net, a, b, lines);
      return;
    }
    case 'bypass-both': {
      const c = w.contacts[switchOf(w, fault.switch)]!;
      join(net, c.columnLug, c.rowLug, [c.column, c.row]);
      return;
    }
    case 'contact-closed':
      change(net, fault.switch, { contact: 'closed' });
      return;
    case 'diode-bypassed':
      change(net, fault.switch, { diode: 'bypassed' });
      return;
    case 'diode-reversed':
      change(net, fault.switch, { diode: 'reversed' });
      return;
    case 'middle-to-ground': {
      const i = switchOf(w, fault.switch);
      const c = w.contacts[i]!;
      if (c.kind === 'direct') throw new Error(`Direct switch ${fault.switch} has no diode.`);
      net.middles.add(i);
      join(net, c.middle, ground, [c.column, c.row]);
      return;
    }
    case 'input-reads':
      net.inputs.set(lineOf(w, fault.line), fault.reads);
      return;
    case 'pull-open':
      net.pullOpen.add(lineOf(w, fault.line));
      net.always.add(lineOf(w, fault.line));
      return;
    case 'exchanged':
      exchange(net, fault);
      return;
    case 'shifted':
      plugIn(net, [{ header: fault.header, on: fault.header, at: (t) => t + fault.by }]);
      return;
    case 'turned': {
      const { positions } = known(w.chart.headers.get(fault.header) ?? w.chart.inline.get(fault.header), `connector ${fault.header}`);
      plugIn(net, [{ header: fault.header, on: fault.header, at: (t) => positions + 1 - t }]);
      return;
    }
    case 'elsewhere':
      plugIn(net, [{ header: fault.header, on: fault.on, at: (t) => t }]);
      return;
    case 'plugs-exchanged': {
      const [a, b] = fault.headers;
      plugIn(net, [
        { header: a, on: b, at: (t) => t },
        { header: b, on: a, at: (t) => t },
      ]);
      return;
    }
    case 'unplugged':
      for (const pin of pinsOf(w, fault.header)) if (pin.spring >= 0) impedeEdge(net, pin.spring, Number.POSITIVE_INFINITY);
      return;
    case 'select-stuck': {
      const before = net.select;
      net.select = (i) => (fault.at === 1 ? before(i) | (1 << fault.bit) : before(i) & ~(1 << fault.bit));
      return;
    }
    case 'opto-dark':
      change(net, fault.switch, { light: 'dark' });
      return;
    case 'opto-lit':
      change(net, fault.switch, { light: 'lit' });
      return;
    case 'emitters-off':
      net.dark.add(fault.supply);
  }
}

function impedeEdge(net: Building, edge: number, value: number): void {
  if (net.ohms === net.wiring.ohms) net.ohms = net.ohms.slice();
  net.ohms[edge]! += value;
}

function impede(net: Building, at: Place, value: number): void {
  const w = net.wiring;
  switch (at.place) {
    case 'driver': {
      const line = lineOf(w, at.line);
      net.drivers.set(line, (net.drivers.get(line) ?? w.values.driverOhms) + value);
      return;
    }
    case 'input':
      // An input draws no current: resistance before it changes nothing.
      if (value === Number.POSITIVE_INFINITY) net.inputs.set(lineOf(w, at.line), 'open');
      return;
    case 'contact':
    case 'diode': {
      const before = net.switches.get(switchOf(w, at.switch))?.addedOhms ?? 0;
      if (value === Number.POSITIVE_INFINITY) change(net, at.switch, { [at.place]: 'open' });
      else change(net, at.switch, { addedOhms: before + value });
      return;
    }
    case 'package': {
      const inside = w.lines.filter((l) => l.part === at.part && l.kind !== 'ground');
      if (inside.length === 0) throw new Error(`The simulator does not know a part ${at.part}.`);
      for (const l of inside) impede(net, { place: l.kind === 'column' ? 'driver' : 'input', line: l.id }, value);
      return;
    }
    default:
      for (const edge of known(w.edgesAt.get(placeKey(at)), placeKey(at))) impedeEdge(net, edge, value);
  }
}

function pinsOf(w: Wiring, header: string) {
  const pins = known(w.chart.headers.get(header) ?? w.chart.inline.get(header), `connector ${header}`).pins;
  return pins.flatMap((pin) => {
    const at = w.pins.get(`${header}-${pin.position}`);
    return at ? [{ position: pin.position, ...at }] : [];
  });
}

type Exchanged = Extract<Physical, { does: 'exchanged' }>;
/** The housing that an exchange is in: the one named, or the first that carries both lines. */
export const housingOf = (w: Wiring, { lines: [a, b], header }: Exchanged): string | undefined =>
  header ?? w.chart.taps.get(a)?.find((tap) => w.chart.taps.get(b)?.some((other) => other.header === tap.header))?.header;

function exchange(net: Building, fault: Exchanged): void {
  const w = net.wiring;
  const header = housingOf(w, fault);
  if (header === undefined) throw new Error(`No housing carries both ${fault.lines.join(' and ')}.`);
  const [a, b] = fault.lines.map((id) =>
    known(
      pinsOf(w, header).find((pin) => pin.net === id),
      `${id} in ${header}`,
    ),
  );
  mate(net, [
    [a!, b!.front],
    [b!, a!.front],
  ]);
}

/** A housing on a header, its terminal t on pin `at(t)`. */
interface Plugged {
  header: string; // whose housing it is
  on: string;
  at(terminal: number): number;
}

/** Pulls the housings of all headers that are named, and puts these on. */
function plugIn(net: Building, plugged: readonly Plugged[]): void {
  const pins = [...new Set(plugged.flatMap(({ header, on }) => [header, on]))].flatMap((header) =>
    pinsOf(net.wiring, header).map((pin) => ({ ...pin, header })),
  );
  const landings = plugged.flatMap(({ header, on, at }) =>
    pins.flatMap((own) => (own.header === header && own.front >= 0 ? [{ own, on, pin: at(own.position) }] : [])),
  );
  mate(
    net,
    pins.flatMap((pin) => {
      const landed = landings.find((l) => l.on === pin.header && l.pin === pin.position);
      return pin.spring >= 0 ? [[pin, landed?.own.front ?? -1] as const] : [];
    }),
  );
  // Terminals that now sit on a rail.
  for (const { own, on, pin: position } of landings) {
    const pin = pins.find((p) => p.header === on && p.position === position);
    if (pin && pin.spring < 0 && pin.pin >= 0) join(net, own.front, pin.pin, [own.line], true);
  }
}

/** Puts terminals on pins; a pin without one is left open. */
function mate(net: Building, pairs: readonly (readonly [{ spring: number; line: number }, number])[]): void {
  net.b = net.b === net.wiring.b ? net.b.slice() : net.b;
  for (const [pin, front] of pairs) {
    net.always.add(pin.line);
    if (front >= 0) net.b[pin.spring] = front;
    else impedeEdge(net, pin.spring, Number.POSITIVE_INFINITY);
  }
}
