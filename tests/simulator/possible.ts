/** Every single fault that a chart can have, with its odds and its place. */
import type { Chart, Inline } from '@/lib/core/chart';
import type { Header } from '@/lib/core/chart/schema';
import { type Odds, prior, shares, weakOhms } from './prior';
import type { Physical, Place, Side } from './types';
import { placeKey, type Wiring } from './wiring';

export interface Possible {
  what: Physical;
  /** Where a person would find it: the key of an element, `insulation 46`, `plug A3J4`, `lines a + b`. */
  place: string;
  sort: keyof typeof prior;
  intermittent: boolean;
  weight: number;
  quiet: number;
  /** Of a contact that a ball or a finger moves: play misses more than a hand does. */
  mechanical: boolean;
}

/** All of them, in the order of the chart. Each element comes once for every manner that it can fail in. */
export function possibleFaults(w: Wiring): Possible[] {
  const all: Possible[] = [];
  const add = (sort: keyof typeof prior, what: Physical, place: string, share = 1, only?: 'hard' | 'intermittent'): void => {
    const { weight, hard, intermittent, quiet }: Odds = prior[sort];
    const common = { what, place, sort, mechanical: sort === 'blade' || sort === 'microswitch' };
    if (hard > 0 && only !== 'intermittent') all.push({ ...common, intermittent: false, weight: weight * hard * share, quiet: 0 });
    if (intermittent > 0 && only !== 'hard') all.push({ ...common, intermittent: true, weight: weight * intermittent * share, quiet });
  };
  const open = (sort: keyof typeof prior, at: Place, share = 1) => add(sort, { does: 'open', at }, placeKey(at), share);
  for (const c of w.contacts) ofSwitch(c, add, open);
  ofHarness(w.chart, w, add, open);
  ofBoard(w, add, open);
  return all;
}

type Add = (sort: keyof typeof prior, what: Physical, place: string, share?: number, only?: 'hard' | 'intermittent') => void;
type Open = (sort: keyof typeof prior, at: Place, share?: number) => void;

function ofSwitch(c: Wiring['contacts'][number], add: Add, open: Open): void {
  const n = c.number;
  const place = `contact ${n}`;
  if (c.opto) {
    for (const part of ['emitter', 'detector', 'window'] as const) add(part, { does: 'opto-dark', switch: n, part }, `${part} ${n}`);
    add('interface', { does: 'opto-lit', switch: n }, `interface ${n}`, 1, 'hard');
    add('interface', { does: 'opto-dark', switch: n, part: 'interface' }, `interface ${n}`, 1, 'intermittent');
  } else {
    const sort = c.leaf ? 'blade' : 'microswitch';
    open(sort, { place: 'contact', switch: n });
    add(sort, { does: 'contact-closed', switch: n }, place, prior[sort].stuck / prior[sort].hard, 'hard');
    const insulation = `insulation ${n}`;
    add('insulation', { does: 'contact-closed', switch: n }, place, shares.bypassContact);
    add('insulation', { does: 'bypass-both', switch: n }, insulation, shares.bypassBoth);
    if (c.kind === 'matrix') add('insulation', { does: 'middle-to-ground', switch: n }, insulation, shares.toGround);
  }
  const sides: Side[] = c.kind === 'matrix' ? ['column', 'row'] : ['input', 'ground'];
  for (const side of sides) open('lug', { place: 'lug', switch: n, side }, 1 - shares.joinOfLug);
  if (c.kind === 'direct') return;
  open('diodeOpen', { place: 'diode', switch: n });
  add('diodeShorted', { does: 'diode-bypassed', switch: n }, `diode ${n}`);
  add('diodeBypassed', { does: 'diode-bypassed', switch: n }, `diode ${n}`);
  add('diodeReversed', { does: 'diode-reversed', switch: n }, `diode ${n}`);
}

/** Joints, pins, terminals, wires and splices that the wiring has, and what housings suffer. */
function ofHarness(chart: Chart, w: Wiring, add: Add, open: Open): void {
  for (const at of w.places) {
    if (at.place === 'segment') open('segment', at);
    else if (at.place === 'join') open('lug', at, shares.joinOfLug);
    else if (at.place === 'splice') open('splice', at);
    else if (at.place === 'pin' || at.place === 'inline') open('spring', at);
    else if (at.place === 'inline-crimp') {
      const displaced = chart.inline.get(at.pin.split('-')[0] ?? '')?.termination === 'insulation-displacement';
      open(displaced ? 'displacement' : 'crimp', at);
    } else if (at.place === 'joint') open('joint', at);
    else if (at.place === 'trace') open('trace', at);
    else if (at.place === 'terminal' && at.to === undefined) {
      const displaced = chart.headers.get(at.pin.split('-')[0] ?? '')?.termination === 'insulation-displacement';
      open(displaced ? 'displacement' : 'crimp', at);
    }
  }
  for (const header of [...chart.headers.values(), ...chart.inline.values()]) {
    const wired = header.pins.filter((pin) => w.pins.has(`${header.id}-${pin.position}`)); // no wire where nothing hangs on a line
    const own = wired.filter((pin) => w.lines.some((l) => l.id === pin.net && l.kind !== 'ground')).sort((a, b) => a.position - b.position);
    if (own.length === 0) continue;
    const plug = `plug ${header.id}`;
    add('unplugged', { does: 'unplugged', header: header.id }, plug);
    if ('pinsOn' in header) ofHalf(chart, header, plug, add);
    else ofPlug(chart, header, plug, add);
    for (const [i, pin] of own.entries()) {
      const next = own[i + 1];
      if (!next || next.position !== pin.position + 1 || next.net === pin.net) continue;
      const lines = [pin.net, next.net] as const;
      add('exchanged', { does: 'exchanged', lines, header: header.id }, `wires ${lines.join(' + ')}`);
      add('neighbours', { does: 'join', lines }, `lines ${lines.join(' + ')}`);
    }
  }
}

/** A housing in the wrong place, where nothing keeps it from going there: a plugged position meets no pin, or the end of the header. */
function ofPlug(chart: Chart, header: Header, plug: string, add: Add): void {
  const { id, positions, lock } = header;
  const keys = keyedAt(chart, id);
  const stopped = (at: (key: number) => number, on = header) =>
    keys.some((key) => at(key) >= 1 && at(key) <= positions && !on.keys.includes(at(key)));
  if (lock !== 'shroud')
    for (const by of [1, -1]) if (!stopped((key) => key + by)) add('shifted', { does: 'shifted', header: id, by }, plug, 0.5);
  if (lock !== 'shroud' && lock !== 'friction' && !stopped((key) => positions + 1 - key))
    add('turned', { does: 'turned', header: id }, plug);
  const fitting = [...chart.headers.values()].filter(
    (other) => other !== header && other.positions === positions && other.pitchMm === header.pitchMm && !stopped((key) => key, other),
  );
  for (const other of fitting) {
    add('elsewhere', { does: 'elsewhere', header: id, on: other.id }, plug, 1 / fitting.length);
    const back = keyedAt(chart, other.id).every((key) => header.keys.includes(key));
    if (back && other.pins.length > 0 && id < other.id)
      add('plugsExchanged', { does: 'plugs-exchanged', headers: [id, other.id] }, `plugs ${id} ${other.id}`);
  }
}

/** The far half of an in-line connector in the wrong place: every contact that has come opposite another must find it free to enter. */
function ofHalf(chart: Chart, connector: Inline, plug: string, add: Add): void {
  const { id, positions, lock, pinsOn } = connector;
  const range = Array.from({ length: positions }, (_, i) => i + 1);
  const found = (of: Inline) => chart.machine.keysAsFound.find((keys) => keys.header === of.id);
  const cut = (of: Inline) => found(of)?.pins ?? of.keys; // positions without a pin
  const shut = (of: Inline) => found(of)?.plug ?? of.keys; // positions whose socket is plugged
  const goes = (on: Inline, at: (position: number) => number) =>
    range.every((far) => {
      const near = at(far);
      if (near < 1 || near > positions) return true;
      return pinsOn === 'far'
        ? cut(connector).includes(far) || !shut(on).includes(near)
        : cut(on).includes(near) || !shut(connector).includes(far);
    });
  if (lock !== 'shroud')
    for (const by of [1, -1]) if (goes(connector, (p) => p + by)) add('shifted', { does: 'shifted', header: id, by }, plug, 0.5);
  if (lock !== 'shroud' && lock !== 'friction' && goes(connector, (p) => positions + 1 - p))
    add('turned', { does: 'turned', header: id }, plug);
  const others = [...chart.inline.values()].filter(
    (other) => other.id !== id && other.positions === positions && other.pitchMm === connector.pitchMm && other.pinsOn === pinsOn,
  );
  const fitting = others.filter((other) => goes(other, (p) => p));
  for (const other of fitting) {
    add('elsewhere', { does: 'elsewhere', header: id, on: other.id }, plug, 1 / fitting.length);
    const back = range.every((p) =>
      pinsOn === 'far' ? cut(other).includes(p) || !shut(connector).includes(p) : cut(connector).includes(p) || !shut(other).includes(p),
    );
    if (back && id < other.id) add('plugsExchanged', { does: 'plugs-exchanged', headers: [id, other.id] }, `plugs ${id} ${other.id}`);
  }
}

/** Plugged positions of a housing: as found, or by the chart. */
const keyedAt = (chart: Chart, header: string): readonly number[] =>
  chart.machine.keysAsFound.find((found) => found.header === header)?.plug ?? chart.headers.get(header)?.keys ?? [];

function ofBoard(w: Wiring, add: Add, open: Open): void {
  for (const { id, kind } of w.lines) {
    if (kind === 'ground') continue;
    add('lineToGround', { does: 'to-ground', line: id }, `line ${id}`);
    if (kind === 'column') {
      open('driver', { place: 'driver', line: id });
      open('latch', { place: 'driver', line: id });
      add('driverStuck', { does: 'driver-on', line: id }, `driver ${id}`);
      add('driverWeak', { does: 'resistance', at: { place: 'driver', line: id }, ohms: weakOhms }, `driver ${id}`);
      continue;
    }
    open('input', { place: 'input', line: id });
    add('inputStuck', { does: 'input-reads', line: id, reads: 'closed' }, `input ${id}`);
    add('pull', { does: 'pull-open', line: id }, `pull ${id}`);
  }
  if (w.chart.design.matrix.select === 'decoder')
    for (let bit = 0; 1 << bit < w.columns.length; bit++)
      for (const at of [0, 1] as const) add('select', { does: 'select-stuck', bit, at }, `select ${bit}`, 0.5);
  for (const part of new Set(w.lines.map((l) => l.part).filter(Boolean)))
    if (w.lines.filter((l) => l.part === part).length > 1) open('package', { place: 'package', part });
  for (const supply of new Set(w.contacts.map((c) => c.emitterSupply).filter(Boolean)))
    add('emitterSupply', { does: 'emitters-off', supply }, `supply ${supply}`);
}
