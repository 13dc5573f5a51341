/**
 * A textbook to compare with: one fixed order of tests, hard logic, no odds.
 *
 * Every single fault that could concern the switch of the complaint is a candidate. A test strikes out each candidate whose own machine
 * would have answered otherwise: a fault is there or it is not, nobody errs, and a switch is bad when most of three presses miss, or a
 * fifth of ten. A test that all remaining candidates answer alike is passed over and not counted. A result that strikes out everything is put down to a slip and
 * left aside.
 *
 * The order: look at rest; of corners held together each pair, then their diodes; siblings in the column, then in the row, the middle of
 * the chain first, then the middles of its halves (three presses each, ten where the complaint comes and goes); bridge at the header pins,
 * then behind the joints; jumper over the contact, then over contact and diode; ohms from pin to lug, hop by hop; diode; wiggle and look
 * at both taps; unplugged at rest; ohms to ground and to the neighbours; plugs; emitter.
 */
import { pathsOf, switchesOf } from '@/lib/core/chart';
import { answer } from './bench';
import type { SimCase } from './cases';
import { type Complaint, concerned } from './complaint';
import { type Errors, noErrors, errors as usual } from './errors';
import { random } from './random';
import type { SimOutcome, SimTest } from './types';
import type { Wiring } from './wiring';
import { type World, world } from './world';

export interface Bisected {
  tests: number;
  /** Places that could still be it, likeliest first by the odds of the table; one where the order has found it. */
  places: string[];
  asked: readonly { test: SimTest; saw: SimOutcome }[];
}
interface Candidate {
  place: string;
  weight: number;
  world: World;
}
const presses = 3;
const pressesOfIntermittent = 10;

/** Follows the order on a case. It asks the world of the case, and so uses up its chance. */
export function bisect(one: SimCase, errors: Errors = usual): Bisected {
  let left = candidates(one);
  const asked: { test: SimTest; saw: SimOutcome }[] = [];
  const placesOf = (some: readonly Candidate[]) => new Set(some.map((c) => c.place));
  for (const test of order(one.wiring, one.complaint)) {
    if (placesOf(left).size <= 1) break;
    const expected = left.map((c) => coarse(answer(c.world, test, noErrors)));
    if (new Set(expected).size < 2) continue;
    const saw = answer(one.world, test, errors);
    asked.push({ test, saw });
    const kept = left.filter((_, i) => expected[i] === coarse(saw));
    if (kept.length > 0) left = kept;
  }
  const weight = new Map<string, number>();
  for (const c of left) weight.set(c.place, (weight.get(c.place) ?? 0) + c.weight);
  return { tests: asked.length, places: [...weight].sort((a, b) => b[1] - a[1]).map(([place]) => place), asked };
}

/** A switch that works is missed now and then: most of a few presses have to miss, or a fifth of many. */
const isBad = (missed: number, pressed: number) => (pressed < pressesOfIntermittent ? missed * 2 > pressed : missed * 5 >= pressed);

/** What hard logic makes of an answer. */
function coarse(saw: SimOutcome): string {
  switch (saw.kind) {
    case 'press':
      return `${isBad(saw.missed, saw.presses)} ${saw.others.join()}`;
    case 'rest':
    case 'hold':
    case 'unplugged-rest':
      return [...saw.shown].sort().join();
    case 'bridge':
    case 'jumper':
    case 'jumper-diode':
      return String(saw.registers);
    case 'continuity':
      return String(saw.good);
    case 'diode':
    case 'ohms':
    case 'middle':
      return saw.reads;
    case 'wiggle':
      return saw.saw;
    case 'joint':
    case 'parted':
    case 'plug':
      return saw.looks;
    case 'emitter':
      return String(saw.glows);
    case 'average':
      return String(Math.round(saw.volts));
  }
}

/** Single faults that fit the complaint; where none fits, all that concern its switch. */
function candidates(one: SimCase): Candidate[] {
  const { complaint, wiring } = one;
  const chance = random(0);
  const seen = new Set<string>();
  const about = new Set([complaint.switch, ...(complaint.held?.switches ?? [])]);
  const concerning = one.possible.flatMap((p): Candidate[] => {
    const key = `${p.place} ${JSON.stringify(p.what)}`;
    if (seen.has(key) || !concerned(wiring, p.what).some((n) => about.has(n))) return [];
    seen.add(key);
    return [{ place: p.place, weight: p.weight, world: world(wiring, [{ what: p.what }], chance) }];
  });
  const test: SimTest = complaint.held
    ? { kind: 'hold', switches: complaint.held.switches }
    : { kind: 'press', switch: complaint.switch, times: presses };
  const pressed = complaint.pressed;
  const saw: SimOutcome = pressed
    ? { ...pressed, missed: pressed.missed > 0 ? pressed.presses : 0 }
    : { kind: 'hold', shown: complaint.held?.shown ?? [] };
  const fits = concerning.filter((c) => coarse(answer(c.world, test, noErrors)) === coarse(saw));
  return fits.length > 0 ? fits : concerning;
}

/** The middle first, then the middles of the halves. */
function halving<T>(all: readonly T[]): T[] {
  const middle = Math.floor(all.length / 2);
  const at = all[middle];
  if (at === undefined) return [];
  const [before, after] = [halving(all.slice(0, middle)), halving(all.slice(middle + 1))];
  const mixed = before.flatMap((x, i) => [x, ...after.slice(i, i + 1)]);
  return [at, ...mixed, ...after.slice(before.length)];
}

/** The tap that a switch hangs on, the in-line positions on the way, and the switches of its line from the board outwards. */
function runOf(w: Wiring, net: string, number: string): { pin: string | undefined; through: string[]; before: string[]; all: string[] } {
  const chains = w.chart.machine.chains.filter((chain) => w.chart.pins.get(chain.tap)?.net === net);
  const own = chains.find((chain) => switchesOf(chain.steps).includes(number));
  const along = own ? switchesOf(own.steps) : [];
  const others = w.chart.circuits.filter((c) => c.nets.includes(net) && !along.includes(c.number)).map((c) => c.number);
  const through = (pathsOf(own?.steps ?? []).get(number) ?? []).filter((joint) => w.chart.through.has(joint));
  return {
    through,
    pin: own?.tap ?? w.chart.taps.get(net)?.[0]?.pin,
    before: along.slice(0, along.indexOf(number)),
    all: [...along, ...others],
  };
}

/** The order for a complaint. Held corners come first: each pair of them, then their diodes. */
export function order(w: Wiring, complaint: Complaint): SimTest[] {
  const held = complaint.held?.switches ?? [];
  const pairs = held.map((_, i): SimTest => ({ kind: 'hold', switches: held.filter((_, j) => j !== i) }));
  const diodes = held.map((n): SimTest => ({ kind: 'diode', switch: n }));
  const { missed = 0, presses: pressed = 0 } = complaint.pressed ?? {};
  const times = missed > 0 && missed < pressed ? pressesOfIntermittent : presses;
  return [{ kind: 'rest' }, ...pairs, ...diodes, ...orderFor(w, complaint.switch, times)];
}

function orderFor(w: Wiring, number: string, times: number): SimTest[] {
  const circuit = w.chart.circuit.get(number);
  if (!circuit) return [{ kind: 'unplugged-rest' }]; // a number without a switch, as ghosts have
  const runs = circuit.nets.map((net) => ({ net, ...runOf(w, net, number) }));
  const siblings = runs.flatMap((run) => halving(run.all.filter((n) => n !== number)));
  const pins = runs.flatMap((run) => (run.pin ? [run.pin] : []));
  const [columnPin, rowPin] = pins;
  const matrix = circuit.kind === 'matrix';
  const bridges: SimTest[] =
    matrix && columnPin && rowPin ? (['pin', 'board'] as const).map((at) => ({ kind: 'bridge', columnPin, rowPin, at })) : [];
  const through = runs.flatMap((run) => run.through);
  const hops = runs.flatMap(({ pin, before }) =>
    pin
      ? [number, ...halving(before)].flatMap((n) =>
          (['pin', 'terminal'] as const).map((from): SimTest => ({ kind: 'continuity', pin, switch: n, from })),
        )
      : [],
  );
  const lines = runs.flatMap(({ net, pin }): SimTest[] => [
    { kind: 'ohms', lines: [net] },
    ...neighbours(w, pin).map((other): SimTest => ({ kind: 'ohms', lines: [net, other] })),
  ]);
  const headers = [...new Set([...pins, ...through].map((pin) => pin.split('-')[0] ?? ''))];
  return [
    ...siblings.map((n): SimTest => ({ kind: 'press', switch: n, times })),
    ...bridges,
    { kind: 'jumper', switch: number },
    ...(matrix ? [{ kind: 'jumper-diode', switch: number } as const] : []),
    ...hops,
    ...through.map((pin): SimTest => ({ kind: 'continuity', pin, switch: number, from: 'terminal' })),
    ...(matrix ? [{ kind: 'diode', switch: number } as const] : []),
    ...[...pins, ...through].map((pin): SimTest => ({ kind: 'wiggle', pin, switch: number })),
    ...pins.map((pin): SimTest => ({ kind: 'joint', pin })),
    ...through.map((pin): SimTest => ({ kind: 'parted', pin })),
    { kind: 'unplugged-rest' },
    ...lines,
    ...(matrix ? [{ kind: 'ohms', lines: [circuit.nets[0]!, circuit.nets[1]!] } as const] : []),
    ...headers.map((header): SimTest => ({ kind: 'plug', header })),
    ...(circuit.device === 'opto' ? [{ kind: 'emitter', switch: number } as const] : []),
  ];
}

/** Switch lines on the positions beside a pin. */
function neighbours(w: Wiring, pin: string | undefined): string[] {
  const tap = w.chart.pins.get(pin ?? '');
  if (!tap) return [];
  const beside = [tap.position - 1, tap.position + 1].flatMap((p) => w.pins.get(`${tap.header}-${p}`) ?? []);
  return beside.filter((p) => p.spring >= 0 && p.net !== tap.net && w.lines[p.line]?.kind !== 'ground').map((p) => p.net);
}
