/** The fault finder's field for matrix lamps. */
import type { Chart } from '../../chart/types';
import type { Result } from '../types';
import { listed } from '../words';
import type { DrivenField } from './driven-field';
import { faultList, onlyOn, type TimesOf, type WeightOf } from './driven-parts';
import { type Axis, lampFaults, onLine } from './lamp-faults';
import { lampCautions, lampsCleared, lampsUnknown } from './lamp-notes';
import {
  isDark,
  isHeld,
  type LampHarm,
  type LampSeen,
  type LampSpot,
  type LampSymptom,
  lampShares,
  lampSymptoms,
  litWith,
  sneaking,
} from './lamp-table';
import { allOffTrial, aloneTrial, hearsLamps, lampFuseTrial, lampTrials, lineTrials, seeLamp } from './lamp-tests';
import { perChart } from './per-chart';
import { blurred, fieldOf, type Harm, harm, inUse, type Look, slip, type Trial } from './scenes';
import { lampSymptoms as lampWords } from './symptoms';

export type { LampSeen } from './lamp-table';

type Harms = Harm<LampHarm>;
const fine: LampSymptom = 'lit when commanded';
const mostDetailed = 2;

/** Everything that can explain what the lamps show, and the tests that would tell. */
export function lampsField(
  chart: Chart,
  seen: readonly LampSeen[],
  results: readonly Result[],
  priors: WeightOf,
  times?: TimesOf,
): DrivenField {
  const spots = lampSpots(chart);
  const spotOf = spotByNumber(chart);
  const present = (numbers: readonly string[]) => numbers.flatMap((n) => spotOf(n) ?? []);
  const strange = seen.flatMap((s) =>
    s.kind === 'lamp' && !spotOf(s.lamp) ? [s.lamp] : s.kind === 'alone' && !spotOf(s.commanded) ? [s.commanded] : [],
  );

  const touched = new Set<string>();
  const complaints = new Set<string>();
  const detailed = new Set<string>();
  for (const s of seen)
    for (const { number } of present(namesOf(s, spots))) {
      touched.add(number);
      if (isComplaint(s, number)) complaints.add(number);
      if (s.kind === 'lamp' && s.shows !== fine && detailed.size < mostDetailed) detailed.add(number);
    }
  const trials = trialsOf(chart, { spots, seen, complaints, detailed, spotOf, results });
  for (const lamp of present([...detailed]))
    if (trials.some((t) => t.id === `alone ${lamp.number}`)) for (const s of neighbours(lamp, spots)) touched.add(s.number);
  for (const t of trials) if (t.id.startsWith('see ')) touched.add(t.id.slice('see '.length));
  const named = new Set(
    [...touched].filter((n) => seen.every((s) => s.kind === 'lamp' || s.kind === 'alone' || !namesOf(s, spots).includes(n))),
  );
  for (const s of seen) if (s.kind === 'lamp' || s.kind === 'alone') for (const number of namesOf(s, spots)) named.add(number);
  const glowing = seen.flatMap((s) => (s.kind === 'lamp' && s.shows === 'glows faintly' ? present([s.lamp]) : []));
  const sneaks = new Set(spots.filter((s) => glowing.some((g) => sharesOne(s, g))).map((s) => s.number));

  const marks = new Set(trials.flatMap((t) => t.inspects ?? []));
  const concerns = (h: Harms): Harms[] => {
    if (h.does === 'mark') return onlyOn(h, marks);
    const near = onlyOn(h, sneaking.has(h.does) ? new Set([...touched, ...sneaks]) : touched);
    return near.map((one) => coarse(one, complaints, detailed));
  };
  const list = faultList<LampHarm>(concerns, times);
  const lamps = present([...new Set([...named, ...sneaks])]);
  const { unplaced } = lampFaults(list, { chart, priors, spots, lamps, lines: linesOf(seen, present([...named])), complaints, sneaks });
  const looks = seen.flatMap((s) => lookOf(chart, s, spots, touched, spotOf));
  const { notes, ...scene } = fieldOf({ faults: list.faults, looks, trials, results, focus: (e) => list.focus.has(e) });
  return {
    ...scene,
    elements: list.elements,
    where: list.where,
    notes: [...lampCautions(seen, complaints, spotOf), ...lampsUnknown(strange, unplaced), ...notes],
    urgent: null,
    wrong: complaints.size > 0,
    cleared: lampsCleared(chart, seen, present([...complaints]), spotOf),
  };
}

/** All lamps of the chart. */
export const lampSpots = perChart(
  (chart): LampSpot[] => chart.lamps.map(({ number, column, row, kind }) => ({ number, column, row, led: kind === 'led' })),
  () => '',
);
const spotByNumber = perChart(
  (chart) => {
    const byNumber = new Map(lampSpots(chart).map((s) => [s.number, s]));
    return (number: string) => byNumber.get(number);
  },
  () => '',
);
/** Lines that somebody spoke of, and those of the lamps that were named. */
export function linesOf(seen: readonly LampSeen[], named: readonly LampSpot[]): { axis: Axis; line: number }[] {
  const spoken = seen.flatMap((s) => (s.kind === 'line' ? [{ axis: s.axis, line: s.line }] : []));
  const all = [
    ...spoken,
    ...named.flatMap((l) => [
      { axis: 'column' as const, line: l.column },
      { axis: 'row' as const, line: l.row },
    ]),
  ];
  return [...new Map(all.map((l) => [`${l.axis} ${l.line}`, l])).values()];
}
const sharesOne = (a: LampSpot, b: LampSpot | undefined) => b !== undefined && a !== b && (a.row === b.row || a.column === b.column);

function namesOf(seen: LampSeen, spots: readonly LampSpot[]): readonly string[] {
  switch (seen.kind) {
    case 'lamp':
      return [seen.lamp];
    case 'line':
      return onLine(spots, seen.axis, seen.line);
    case 'all-off':
      return seen.lit;
    case 'alone':
      return [seen.commanded, ...seen.lit];
  }
}

const isComplaint = (seen: LampSeen, number: string): boolean =>
  seen.kind === 'all-off' || (seen.kind === 'alone' ? number !== seen.commanded || !seen.lit.includes(number) : seen.shows !== fine);

/** Lamps that nobody looks into closely are only lit or dark, whatever keeps them so. */
const darkening = new Set<LampHarm>([
  'bulb',
  'bulb-shorted',
  'diode-open',
  'column-dead',
  'column-cut',
  'row-dead',
  'row-cut',
  'column-grounded',
  'row-supplied',
]);
function coarse(h: Harms, complaints: ReadonlySet<string>, detailed: ReadonlySet<string>): Harms {
  if (h.on.some((n) => detailed.has(n)) || !darkening.has(h.does)) return h;
  const lineOfComplaint = h.on.length > 1 && h.on.some((n) => complaints.has(n));
  return lineOfComplaint ? h : harm('own-cut', h.on);
}

function lookOf(
  chart: Chart,
  seen: LampSeen,
  spots: readonly LampSpot[],
  touched: ReadonlySet<string>,
  spotOf: (n: string) => LampSpot | undefined,
): Look<LampHarm>[] {
  const near = spots.filter((s) => touched.has(s.number));
  /** Of each lamp near by, whether it was seen to be lit. */
  const pattern = (
    what: string,
    lit: readonly string[],
    predicted: (harms: readonly Harms[], lamp: LampSpot) => boolean,
  ): Look<LampHarm> => {
    const was = new Set(lit);
    return {
      what: `${what} ${lit.length > 0 ? listed(lit) : 'nothing'} showed light`,
      hears: hearsLamps(near.map((s) => s.number)),
      chance: (harms) => near.reduce((product, lamp) => product * (predicted(harms, lamp) === was.has(lamp.number) ? 1 - slip : slip), 1),
      usual: (1 - slip) ** near.length,
    };
  };
  switch (seen.kind) {
    case 'lamp':
    case 'line': {
      const lamps = namesOf(seen, spots).flatMap((n) => spotOf(n) ?? []);
      const who = seen.kind === 'lamp' ? `Lamp ${seen.lamp}` : `Each lamp of ${seen.axis} ${seen.line}`;
      return lamps.length > 0 ? [plainLook(chart, who, seen.shows, lamps, spotOf)] : [];
    }
    case 'all-off':
      return [pattern('With every lamp off', seen.lit, (harms, lamp) => isHeld(harms, lamp) && !isDark(harms, lamp))];
    case 'alone': {
      const commanded = spotOf(seen.commanded);
      if (!commanded) return [];
      return [pattern(`With only ${seen.commanded} commanded`, seen.lit, (harms, lamp) => litWith(harms, lamp, commanded, spotOf))];
    }
  }
}

/** Each of these lamps shows the same. */
const plainLook = perChart(
  (_, who: string, shows: LampSymptom, lamps: readonly LampSpot[], spotOf: (n: string) => LampSpot | undefined): Look<LampHarm> => ({
    what: `${who} ${lampWords.find((s) => s.id === shows)?.label}`,
    hears: hearsLamps(lamps.map((l) => l.number)),
    chance: (harms) => blurred(Math.min(...lamps.map((l) => lampShares(harms, l, spotOf)[shows] ?? 0)), lampSymptoms.length),
    usual: 1 - slip,
  }),
  (who, shows) => `${who} ${shows}`,
);

interface Asked {
  spots: readonly LampSpot[];
  seen: readonly LampSeen[];
  complaints: ReadonlySet<string>;
  detailed: ReadonlySet<string>;
  spotOf(number: string): LampSpot | undefined;
  results: readonly Result[];
}

/** Tests of what keeps a lamp dark: they say nothing of one that glows. */
const onOpenPaths = /^(see|strobe|junctions|continuity|look-)/;

function trialsOf(chart: Chart, { spots, seen, complaints, detailed, spotOf, results }: Asked): Trial<LampHarm>[] {
  const trials = new Map<string, Trial<LampHarm>>();
  const add = (more: readonly Trial<LampHarm>[]) => {
    const useful = glows ? more.map((t) => ({ ...t, offered: t.offered && !onOpenPaths.test(t.id) })) : more;
    for (const trial of inUse(useful, results)) if (!trials.has(trial.id)) trials.set(trial.id, trial);
  };
  const glows = seen.some((s) => s.kind === 'lamp' && s.shows === 'glows faintly');
  const nameOf = (number: string) => chart.lamps.find((l) => l.number === number)?.name ?? '';
  const shown = new Set(seen.flatMap((s) => (s.kind === 'lamp' ? [s.lamp] : [])));
  const lineSeen = seen.find((s) => s.kind === 'line');
  const [first] = [...detailed, ...complaints].flatMap((n) => spotOf(n) ?? []);
  if (!first) return [];
  for (const lamp of [...detailed].flatMap((n) => spotOf(n) ?? [])) add(lampTrials(chart, lamp));
  for (const axis of ['column', 'row'] as const) {
    if (lineSeen && lineSeen.axis !== axis) continue;
    add(lineTrials(chart, axis, first[axis], first));
    const mates = spots.filter((s) => s[axis] === first[axis] && s !== first && !shown.has(s.number));
    if (!lineSeen) add(mates.slice(0, 1).map((m) => seeLamp(chart, m, nameOf(m.number), spotOf)));
  }
  if (!seen.some((s) => s.kind === 'all-off')) add([allOffTrial(chart, first)]);
  const plainDark = seen.some((s) => s.kind === 'lamp' && s.lamp === first.number && s.shows === 'dark');
  if (detailed.has(first.number) && !plainDark) add([aloneTrial(chart, first, neighbours(first, spots), spotOf)]);
  if (seen.some((s) => 'shows' in s && s.shows === 'dark')) add([lampFuseTrial(chart, first.number)]);
  const seenLater = results.flatMap(({ test }) => (test.startsWith('see ') ? (spotOf(test.slice('see '.length)) ?? []) : []));
  add(seenLater.map((s) => ({ ...seeLamp(chart, s, nameOf(s.number), spotOf), offered: false })));
  return [...trials.values()];
}

/** Lamps on the neighbouring lines that share one with it. */
const neighbours = (lamp: LampSpot, spots: readonly LampSpot[]): LampSpot[] =>
  spots.filter((s) => s === lamp || Math.abs(s.column - lamp.column) + Math.abs(s.row - lamp.row) === 1);
