/** A case, made ready to weigh: what was seen, the faults that could be behind it, and the tests that could tell them apart. */
import type { Chart } from '../../chart/types';
import type { Observation, Probe, Result } from '../types';
import type { Field } from '../weigh';
import { type Chances, chancesOf, type Said, type Weighable } from './chances';
import { type Evidence, sorted } from './evidence';
import { type FaultSpace, faultSpace, type SwitchMode } from './modes';
import { type Network, networkOf } from './network';
import { type Rates, usualRates } from './press';
import { pressesOfTry, pressProbe } from './press-probe';
import type { FixCounts } from './priors';
import { probeOf, testsFor } from './probes';
import { type Wiring, wiringOf } from './wiring';

export interface Seen {
  observations: readonly Observation[];
  results: readonly Result[];
  /** What was done to the machine lately, ids of `histories`. */
  done: readonly string[];
  /** Also three faults at once, among the likeliest. */
  threes?: boolean;
}
export interface Case {
  network: Network;
  wiring: Wiring;
  evidence: Evidence;
  space: FaultSpace;
  rates: Rates;
  complaints: readonly string[]; // switch numbers that behave wrongly
  field: Field;
  probes: readonly Probe[];
  results: readonly Said[];
}
const expectedFurther = 0.5; // faults expected in the machine beside the one looked for
const nothingShare = 0.05; // weight of "nothing is wrong" against all single faults
const together = 10; // two faults in one housing, header or package

export function caseOf(chart: Chart, seen: Seen, counts: FixCounts): Case {
  const network = networkOf(chart);
  const wiring = wiringOf(network);
  const evidence = sorted(seen.observations, wiring);
  const space = faultSpace(network, { done: seen.done, counts });
  const rates = usualRates;
  const complaints = complaintsOf(evidence);
  const results = seen.results.flatMap(({ test, saw }): Said[] => {
    const probe = probeOf(wiring, test);
    const outcome = probe?.outcomes.findIndex((o) => o.id === saw) ?? -1;
    return probe && outcome >= 0 ? [{ probe, outcome }] : [];
  });
  const chances = chancesOf(wiring, space, evidence, results, rates);
  const targets = pressTargets(network, complaints, evidence);
  const presses = targets.map((t) =>
    pressProbe(wiring, evidence, rates, t, (mode) => space.touching.get(t.number)?.has(mode.place) ?? false),
  );
  const bench = benchTests(wiring, complaints, evidence, new Set(results.map((r) => r.probe.id)));
  const focused = new Set(
    complaints.flatMap((number) => [...(space.touching.get(number) ?? [])].map((i) => space.modes[i]?.element ?? '')),
  );
  const keys = keysOf(
    space,
    chances,
    targets.map((t) => t.number),
    [...results.map((r) => r.probe), ...bench],
  );
  const modes = [...keys].flatMap(([place, key]): Weighable[] => {
    const mode = space.modes[place];
    return mode ? [{ ...mode, key }] : [];
  });
  const sum = space.all.weight;
  const field: Field = {
    modes,
    all: space.all,
    nothing: nothingShare * sum,
    elsewhere: leanOf(
      sum,
      space.modes.filter((mode) => focused.has(mode.element)).reduce((w, mode) => w + mode.weight, 0),
    ),
    pair: expectedFurther / sum,
    together,
    given: chances.given,
    both: chances.both,
    focus: (element) => focused.has(element),
  };
  return { network, wiring, evidence, space, rates, complaints, field, probes: [...presses, ...bench], results };
}

/**
 * Somebody complains of a switch. That nothing in the focus is wrong, whatever else may be in the machine, is then as unlikely as w_0 says,
 * and not as likely as the rest of the machine is large: the factor on those explanations. Pairs by the plain product of weights.
 */
function leanOf(all: number, within: number): number {
  if (within === 0) return 1;
  const pair = expectedFurther / all;
  const beyond = all - within;
  const culprit = within + pair * (within * beyond + within ** 2 / 2);
  const none = nothingShare * all + beyond + (pair * beyond ** 2) / 2;
  return Math.min(1, (nothingShare * culprit) / none);
}

/** Switches that did something wrong: missed, read closed by themselves, brought others along. */
function complaintsOf({ presses, rest, hold }: Evidence): string[] {
  const isMissing =
    ({ shown }: Evidence['hold'][number]) =>
    (number: string) =>
      !shown.includes(number);
  const odd = hold.filter((o) => o.held.some(isMissing(o)) || o.shown.some((number) => !o.held.includes(number)));
  const wrong = [
    ...presses.filter((o) => o.missed > 0 || o.others.length > 0).map((o) => o.number),
    ...rest.filter((o) => o.reads === 'active').map((o) => o.number),
    ...odd.flatMap((o) => o.held.filter(isMissing(o))),
    ...odd.flatMap((o) => o.held),
  ];
  return [...new Set(wrong)];
}

/** Keys of the modes that something seen or tested depends on, by place: one key, the same chances of all of it and of all that can be tested. */
function keysOf(space: FaultSpace, chances: Chances, targets: readonly string[], heard: readonly Probe[]): Map<number, string> {
  const keys = new Map<number, string>();
  const add = (place: number, text: string) => {
    const key = keys.get(place);
    if (key !== undefined) keys.set(place, key + text);
  };
  for (const [place, things] of chances.loud) {
    const mode = space.modes[place];
    // A forcing fault has a pattern of its own on every switch that it touches.
    if (!mode) continue;
    const far = chances.far.has(place) ? `far ${things} ${chances.given([{ ...mode, key: '' }]).toFixed(6)} ` : null;
    keys.set(place, far ?? (mode.effect.does === 'cut' ? `${cutKey(mode)} ${things} ` : `${effectKey(mode)} `));
  }
  for (const [k, number] of targets.entries()) for (const place of space.touching.get(number) ?? []) add(place, `${k},`);
  for (const [k, probe] of heard.entries())
    for (const place of chances.loud.keys()) {
      const sign = signOf(probe, space, place);
      if (sign) add(place, `|${k}:${sign}`);
    }
  return keys;
}

/** What matters of a cut beside the things that it serves: a hard one is never quiet. */
const cutKey = ({ behaviour, quiet, mechanical }: SwitchMode): string =>
  behaviour === 'hard' ? 'hard' : `${behaviour} ${quiet} ${mechanical}`;

/** Faults of the same effect are one. */
const effectKey = ({ effect }: SwitchMode): string => Object.values(effect).flat().join(' ');

const signs = new WeakMap<Probe, Map<number, string>>();

/** Chances of a bench test with one mode present, as text; empty when the test does not heed it. They depend on the chart alone. */
function signOf(probe: Probe, space: FaultSpace, place: number): string {
  const known = signs.get(probe) ?? new Map<number, string>();
  signs.set(probe, known);
  let sign = known.get(place);
  if (sign === undefined) {
    const mode = space.modes[place];
    const chances = mode && (probe.heeds?.(mode) ?? true) ? probe.chance([mode]) : [];
    sign = chances.map((chance) => chance.toFixed(3)).join();
    known.set(place, sign);
  }
  return sign;
}

/** Presses worth trying: others of the same lines, the suspect again, the suspect by ball. */
function pressTargets(network: Network, complaints: readonly string[], evidence: Evidence) {
  const tried = new Map<string, number>();
  for (const o of evidence.presses) tried.set(o.number, (tried.get(o.number) ?? 0) + o.presses);
  const worst = worstOf(complaints, evidence);
  // One that is on by itself cannot be seen to register.
  const pressable = worst.filter((number) => !alwaysOn(evidence, number));
  const lines = new Set(network.circuits.filter((c) => worst.includes(c.number)).flatMap((c) => c.nets));
  // Optical switches on one emitter supply, direct switches on one return.
  const fed = new Set(
    [...network.elements.values()]
      .filter((e) => /^(emitters|ground return)/.test(e.id) && worst.some((number) => e.serves.has(number)))
      .flatMap((e) => [...e.serves]),
  );
  const enough = (number: string) => (tried.get(number) ?? 0) >= 20;
  const siblings = network.circuits
    .filter((c) => !complaints.includes(c.number) && !enough(c.number) && (c.nets.some((net) => lines.has(net)) || fed.has(c.number)))
    .map((c) => c.number);
  const byHand = [...siblings, ...pressable.filter((number) => !enough(number))].map((number) => ({
    number,
    presses: tried.has(number) ? 10 : pressesOfTry,
    how: 'hand' as const,
  }));
  const byBall = pressable
    .filter((number) => !evidence.presses.some((o) => o.number === number && o.how === 'ball'))
    .map((number) => ({ number, presses: 10, how: 'ball' as const }));
  return [...byHand, ...byBall];
}

/** The switch that was named first, and of the others the one that misses most: a slip or two makes a complaint of a sound switch. */
function worstOf([first, ...others]: readonly string[], { presses, rest }: Evidence): string[] {
  const missing = (number: string): number => {
    if (rest.some((o) => o.number === number && o.reads === 'active')) return 1;
    const { missed, all } = presses
      .filter((o) => o.number === number)
      .reduce((sum, o) => ({ missed: sum.missed + o.missed, all: sum.all + o.presses }), { missed: 0, all: 0 });
    return all === 0 ? 0 : missed / all;
  };
  const [second] = others.sort((a, b) => missing(b) - missing(a));
  return [first, second].flatMap((number) => number ?? []);
}

const mostAccused = 8; // switches of one line

function benchTests(wiring: Wiring, complaints: readonly string[], evidence: Evidence, done: ReadonlySet<string>): Probe[] {
  const ids = worstOf(complaints, evidence).flatMap((number) => testsFor(wiring, number, { alwaysOn: alwaysOn(evidence, number) }));
  // A number too many with several held comes over a diode of one of them.
  const diodes = evidence.hold.flatMap(({ held }) => held.map((number) => `diode ${number}`));
  // A line that is grounded over one of its switches accuses them all alike.
  const grounds = complaints.slice(0, mostAccused).map((number) => `ground ${number}`);
  return [...new Set([...ids, ...diodes, ...grounds])].filter((id) => !done.has(id)).flatMap((id) => probeOf(wiring, id) ?? []);
}

const alwaysOn = ({ rest }: Evidence, number: string): boolean => rest.some((o) => o.number === number && o.reads === 'active');
