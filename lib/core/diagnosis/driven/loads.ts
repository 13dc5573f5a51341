/** The fault finder's field for driven loads: coils, flashers, motors, relays. */

import type { Load } from '../../chart/schema';
import type { Chart } from '../../chart/types';
import type { Result } from '../types';
import type { DrivenField } from './driven-field';
import { faultList, onlyOn, type TimesOf, type WeightOf } from './driven-parts';
import { fuseOf, loadFaults, matesOf } from './load-faults';
import { fuseTrials, surveyTrials } from './load-fuse-tests';
import { loadCautions, loadsCleared, loadsUnknown, urgentLoads } from './load-notes';
import { circuitOf, type LoadHarm, type LoadSeen, smellOf, symptoms } from './load-table';
import { hearsLoad, loadTrials, mateTrial, symptomChance } from './load-tests';
import { perChart } from './per-chart';
import { blurred, fieldOf, type Harm, harm, inUse, type Look, slip, type Trial } from './scenes';
import { loadSymptoms } from './symptoms';

export type { LoadSeen } from './load-table';

const mostMates = 2; // proposed to be fired next
const manyDead = 3;

/** Everything that can explain what the loads do, and the tests that would tell. Numbers that the chart does not have are named in `notes`. */
export function loadsField(
  chart: Chart,
  seen: readonly LoadSeen[],
  results: readonly Result[],
  priors: WeightOf,
  times?: TimesOf,
): DrivenField {
  const known = new Map(chart.loads.map((l) => [l.number, l]));
  const strange = seen.filter((s) => !known.has(s.load)).map((s) => s.load);
  const reports = seen.filter((s) => known.has(s.load));
  const complaints = new Set(reports.filter(misbehaves).map((s) => s.load));
  const complained = chart.loads.filter((l) => complaints.has(l.number));
  const named = new Set([...reports.map((s) => s.load), ...results.flatMap((r) => r.test.split(' '))]);
  const fuses = new Set(complained.map((l) => fuseOf(chart, l)));
  const loads = chart.loads.filter((l) => fuses.has(fuseOf(chart, l)) || named.has(l.number));

  const { trials, detailed } = trialsOf(chart, reports, complained, results);
  const touched = new Set(trials.flatMap((t) => (t.id.startsWith('mate ') ? [t.id.slice('mate '.length)] : [])));
  for (const number of [...reports.map((r) => r.load), ...detailed]) touched.add(number);
  const surveyed = new Set(trials.flatMap((t) => (t.id.startsWith('draws ') ? [t.id.slice('draws '.length)] : [])));
  const draws = new Set([...touched, ...loads.filter((l) => surveyed.has(fuseOf(chart, l))).map((l) => l.number)]);
  const marks = new Set(trials.flatMap((t) => t.inspects ?? []));
  const dead = told(reports, results).flatMap((r) => (r.shows === 'dead' && !detailed.has(r.load) ? [r.load] : []));
  /** Where many are dead together, what ails one of them alone explains nothing. */
  const oneOfMany = new Set(dead.length >= manyDead ? dead : []);
  const concerns = (h: LoadHarms): LoadHarms[] => {
    if (h.does === 'mark') return onlyOn(h, marks);
    if (h.does === 'draws') return onlyOn(h, draws);
    return coarse(onlyOn(h, touched), detailed).filter((c) => c.on.length > 1 || !c.on.some((n) => oneOfMany.has(n)));
  };
  const list = faultList<LoadHarm>(concerns, times);
  const { unplaced } = loadFaults(list, { chart, priors, loads, complaints, fuses });

  const focus = (element: string) => list.focus.has(element);
  const { notes, ...scene } = fieldOf({ faults: list.faults, looks: reports.flatMap((r) => looksAt(chart, r)), trials, results, focus });
  return {
    ...scene,
    elements: list.elements,
    where: list.where,
    notes: [...loadCautions(chart, reports, complained), ...loadsUnknown(strange, unplaced), ...notes],
    urgent: urgentLoads(reports),
    wrong: complaints.size > 0,
    cleared: loadsCleared(chart, reports, complained),
  };
}

/** What was reported of each load, and what firing one as a test showed. */
const told = (reports: readonly LoadSeen[], results: readonly Result[]): { load: string; shows: string }[] => [
  ...reports,
  ...results.flatMap(({ test, saw }) => (test.startsWith('mate ') ? [{ load: test.slice('mate '.length), shows: saw }] : [])),
];

const misbehaves = ({ shows, smells }: LoadSeen) => shows !== 'fires' || smells === true;

const looksAt = perChart(
  (_, seen: LoadSeen) => looksOf(seen),
  ({ load, shows, smells }) => `${load} ${shows} ${smells === true}`,
);

function looksOf({ load, shows, smells }: LoadSeen): Look<LoadHarm>[] {
  const hears = hearsLoad(load);
  const shown: Look<LoadHarm> = {
    what: `${load} ${loadSymptoms.find((s) => s.id === shows)?.label}`,
    hears,
    chance: (harms) => symptomChance(circuitOf(harms, load))[symptoms.indexOf(shows)] ?? 0,
    usual: 1 - slip,
  };
  const chance = (harms: readonly LoadHarms[]) => blurred(smellOf(circuitOf(harms, load)), 2);
  return smells ? [shown, { what: `${load} smells of burning`, hears, chance, usual: 0.5 }] : [shown];
}

/** The tests, and the loads that are looked into closely: of several that are dead on one fuse only the first, until a test names another. */
function trialsOf(chart: Chart, reports: readonly LoadSeen[], complained: readonly Load[], results: readonly Result[]) {
  const trials = new Map<string, Trial<LoadHarm>>();
  const add = (more: readonly Trial<LoadHarm>[]) => {
    const safe = hot ? more.map((t) => ({ ...t, offered: t.offered && (t.power !== 'on' || t.id.startsWith('unplug-return ')) })) : more;
    for (const trial of inUse(safe, results)) if (!trials.has(trial.id)) trials.set(trial.id, trial);
  };
  /** Nothing may be left powered while a load is on by itself, or smells. */
  const hot = urgentLoads(reports) !== null;
  const shows = new Map(reports.map((r) => [r.load, r.shows]));
  const asked = new Set(
    results.flatMap((r) => [r.test.startsWith('mate ') ? '' : (r.test.split(' ')[1] ?? ''), r.test.startsWith('draws ') ? r.saw : '']),
  );
  const deadOn = new Set<string>();
  const detailed = new Set<string>();
  for (const load of chart.loads) {
    const { number } = load;
    const fuse = fuseOf(chart, load);
    const dead = shows.get(number) === 'dead';
    if (asked.has(number) || (complained.includes(load) && !(dead && deadOn.has(fuse)))) detailed.add(number);
    if (dead) deadOn.add(fuse);
  }
  for (const load of chart.loads.filter((l) => detailed.has(l.number))) {
    const drawn = results.some((r) => r.test.startsWith('draws ') && r.saw === load.number);
    const shown = shows.get(load.number) ?? 'dead';
    add(loadTrials(chart, load, drawn || shown === 'fires' ? 'fuse blows' : shown)); // one that fires is here because it smells, or was tested
  }
  for (const load of complained) {
    add(fuseTrials(chart, load));
    if (blownLikely(chart, load, reports, results)) add(surveyTrials(chart, load));
  }
  const [first] = complained;
  if (first && ['dead', 'weak'].includes(shows.get(first.number) ?? ''))
    add(matesToFire(chart, first, new Set(shows.keys())).map((l) => mateTrial(chart, l)));
  const fired = new Set(results.flatMap(({ test }) => (test.startsWith('mate ') ? [test.slice('mate '.length)] : [])));
  add(chart.loads.filter((l) => fired.has(l.number)).map((l) => ({ ...mateTrial(chart, l), offered: false })));
  return { trials: [...trials.values()], detailed };
}

type LoadHarms = Harm<LoadHarm>;
const opens = new Set<LoadHarm>(['winding-open', 'return-cut', 'driver-cut', 'supply-cut']);
const sinks = new Set<LoadHarm>(['driver-on', 'drive-on', 'return-grounded']);
const shared = new Set<LoadHarm>(['feed-cut', 'fuse-blown', 'holder-cut', 'supply-grounded', 'drive-cut', 'supply-weak']);
/** Of a load that is only fired, not measured, it matters whether it is dead or on by itself. */
function coarse(harms: LoadHarms[], detailed: ReadonlySet<string>): LoadHarms[] {
  return harms.flatMap((h) => {
    if (h.on.some((n) => detailed.has(n)) || (shared.has(h.does) && h.on.length > 1)) return [h];
    if (opens.has(h.does) || h.does === 'drive-cut') return [harm('return-cut' as const, h.on)];
    if (sinks.has(h.does)) return [harm('driver-on' as const, h.on)];
    return shared.has(h.does) && h.does !== 'supply-weak' ? [h] : [];
  });
}

/** The fuse blows, or was found blown, or nothing on it is known to work while two loads are dead. */
function blownLikely(chart: Chart, load: Load, reports: readonly LoadSeen[], results: readonly Result[]): boolean {
  const mates = new Set(matesOf(chart, load).map((l) => l.number));
  const onFuse = told(reports, results).filter((r) => mates.has(r.load));
  if (onFuse.some((r) => r.shows === 'fuse blows')) return true;
  if (results.some((r) => r.test === `fuse ${fuseOf(chart, load)}` && r.saw === 'blown')) return true;
  const surveys = ['draws', 'rail'].map((id) => `${id} ${fuseOf(chart, load)}`);
  if (results.some((r) => surveys.includes(r.test))) return true;
  return onFuse.filter((r) => r.shows === 'dead').length > 1 && onFuse.every((r) => r.shows === 'dead');
}

/** Mates on the fuse: those that share the most with it on the supply chain first, then one on the same pre-driver. */
function matesToFire(chart: Chart, load: Load, reported: ReadonlySet<string>): Load[] {
  const steps = chart.machine.chains.map((chain) => JSON.stringify(chain.steps));
  const near = (l: Load) => {
    const quoted = (n: string) => `"load":"${n}"`;
    const shared = steps.some((s) => s.includes(quoted(l.number)) && s.includes(quoted(load.number)));
    return (shared ? 2 : 0) + (load.predriver !== undefined && l.predriver === load.predriver ? 1 : 0);
  };
  const mates = matesOf(chart, load).filter((l) => l !== load && !reported.has(l.number));
  return mates.sort((a, b) => near(b) - near(a)).slice(0, mostMates);
}
