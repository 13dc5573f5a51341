/** What the person who found the fault reports first: the first wrong switch, pressed by hand, and the test screen at rest. */
import { answer } from './bench';
import { type Errors, errors as usual } from './errors';
import type { Physical, SimOutcome } from './types';
import type { Wiring } from './wiring';
import { indexOf, netWith, show, type World } from './world';

export interface Complaint {
  /** The switch that is named. */
  switch: string;
  /** It was pressed three to five times by hand; not so where only several held together show the fault. */
  pressed?: Extract<SimOutcome, { kind: 'press' }>;
  /** Active numbers with nothing pressed. */
  rest: readonly string[];
  /** Three corners that were held, and what then showed. */
  held?: { switches: readonly string[]; shown: readonly string[] };
}
const mostSwitchesTried = 40;
const mostTries = 50;

/** The complaint, or null when the fault shows at no switch that somebody would come upon. */
export function complaintOf(w: World, { errors = usual, tries = mostTries }: { errors?: Errors; tries?: number } = {}): Complaint | null {
  const sound = netWith(w, []);
  const faulty = netWith(w, w.faults);
  const restBefore = show(sound, []);
  const atRest = show(faulty, []).filter((n) => !restBefore.includes(n) && w.wiring.contact.has(n));
  const wrong = (number: string): boolean => {
    const [now, before] = [show(faulty, [number]), show(sound, [number])];
    return now.includes(number) !== before.includes(number) || now.some((n) => !before.includes(n) && !atRest.includes(n));
  };
  const near = w.random.shuffled([...new Set(w.faults.flatMap(({ what }) => concerned(w.wiring, what)))]);
  const named = atRest.length > 0 ? w.random.pick(atRest) : near.slice(0, mostSwitchesTried).find(wrong);
  if (named === undefined) return cornered(w);
  for (let i = 0; i < tries; i++) {
    const pressed = answer(w, { kind: 'press', switch: named, times: w.random.whole(3, 5) }, errors);
    const rest = answer(w, { kind: 'rest' }, errors);
    if (pressed.kind !== 'press' || rest.kind !== 'rest') throw new Error('A press answers a press.');
    const shows = pressed.missed > 0 || pressed.others.length > 0 || rest.shown.some((n) => !restBefore.includes(n));
    if (shows) return { switch: named, pressed, rest: rest.shown };
  }
  return null;
}

/** A ghost of three corners around a switch with a fault, as balls in a trough or a bank of targets make it. */
function cornered(w: World): Complaint | null {
  const sound = netWith(w, []);
  const faulty = netWith(w, w.faults);
  for (const { what } of w.faults) {
    if (!('switch' in what)) continue;
    const own = w.wiring.contacts[indexOf(w.wiring, what.switch)]!;
    if (own.kind === 'direct') continue;
    const mates = w.random.shuffled(w.wiring.contacts.filter((c) => c.kind === 'matrix' && c.column === own.column && c.row !== own.row));
    const others = w.random.shuffled(w.wiring.contacts.filter((c) => c.kind === 'matrix' && c.row === own.row && c.column !== own.column));
    for (const [i, mate] of mates.slice(0, 4).entries()) {
      const other = others[i];
      if (!other) break;
      const switches = [own.number, mate.number, other.number];
      const [now, before] = [show(faulty, switches), show(sound, switches)];
      const ghost = now.find((n) => !before.includes(n)) ?? before.find((n) => !now.includes(n));
      if (ghost !== undefined) return { switch: ghost, rest: show(faulty, []), held: { switches, shown: now } };
    }
  }
  return null;
}

/** Switches that a fault may show at. */
export function concerned(w: Wiring, what: Physical): string[] {
  const ofLine = (id: string) => w.chart.circuits.filter((c) => c.nets.includes(id)).map((c) => c.number);
  const ofPin = (pin: string) =>
    ofLine(w.pins.get(pin)?.net ?? '').concat((w.chart.pins.get(pin) ?? w.chart.through.get(pin))?.behind ?? []);
  if (what.does === 'open' || what.does === 'resistance') {
    const { at } = what;
    if ('switch' in at && at.place !== 'join') return [at.switch];
    if ('pin' in at) return ofPin(at.pin);
    if ('line' in at) return ofLine(at.line);
    return w.lines.filter((l) => 'part' in at && l.part === at.part).flatMap((l) => ofLine(l.id));
  }
  if ('switch' in what) {
    const nets = w.chart.circuit.get(what.switch)?.nets ?? [];
    return [what.switch, ...nets.flatMap(ofLine)];
  }
  if ('lines' in what) return what.lines.flatMap(ofLine);
  if ('line' in what) return ofLine(what.line);
  const ofHeader = (header: string) =>
    ((w.chart.headers.get(header) ?? w.chart.inline.get(header))?.pins ?? []).flatMap((pin) => ofLine(pin.net));
  if (what.does === 'elsewhere') return [what.header, what.on].flatMap(ofHeader);
  if ('headers' in what) return what.headers.flatMap(ofHeader);
  if ('header' in what) return ofHeader(what.header);
  if (what.does === 'emitters-off') return w.contacts.filter((c) => c.emitterSupply === what.supply).map((c) => c.number);
  return w.contacts.map((c) => c.number);
}
