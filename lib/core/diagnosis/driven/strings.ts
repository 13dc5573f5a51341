/** The fault finder's field for strings of lamps at low voltage (general illumination). */
import type { Illumination } from '../../chart/schema';
import type { Chart } from '../../chart/types';
import type { Result } from '../types';
import type { DrivenField } from './driven-field';
import { faultList, onlyOn, type TimesOf, type WeightOf } from './driven-parts';
import { blurred, fieldOf, type Harm, hearing, inUse, type Look, slip } from './scenes';
import { pinsOf, stringFaults } from './string-faults';
import { stringCautions, stringsCleared, stringsUnknown, urgentStrings } from './string-notes';
import {
  brownOf,
  dropOf,
  type StringHarm,
  type StringSeen,
  smellOf,
  stringChance,
  stringLooks,
  stringSymptoms,
  suspectFrom,
  warm,
} from './string-table';
import { stringTrials } from './string-tests';
import { stringSymptoms as stringWords } from './symptoms';

export type { StringSeen } from './string-table';

/** Everything that can explain what the strings show, and the tests that would tell. */
export function stringsField(
  chart: Chart,
  seen: readonly StringSeen[],
  results: readonly Result[],
  priors: WeightOf,
  times?: TimesOf,
): DrivenField {
  const shows = new Map(seen.flatMap((s) => (s.kind === 'string' ? [[s.string, s.shows] as const] : [])));
  const measured = seen.flatMap((s): Result[] => (s.kind === 'drop' ? [{ test: `drop ${s.pin}`, saw: dropOf(s.millivolts) }] : []));
  const all = [...measured, ...results];
  const asked = new Set(all.map((r) => r.test.split(' ')[1] ?? ''));
  const plugs = new Set(seen.flatMap((s) => (s.kind === 'plug' ? [s.header] : [])));
  const spoken = (s: Illumination) =>
    shows.has(s.id) || asked.has(s.id) || pinsOf(chart, s).some((p) => asked.has(p) || plugs.has(headerOf(p)));
  const strings = chart.illumination.filter(spoken);
  const hot = urgentStrings(seen) !== null;
  const offers = strings.flatMap((s) => stringTrials(chart, s, shows.get(s.id) ?? 'lit'));
  const safe = hot ? offers.map((t) => ({ ...t, offered: t.offered && t.power !== 'on' })) : offers;
  const trials = inUse([...new Map(safe.map((t) => [t.id, t])).values()], all);

  const names = new Set([...strings.map((s) => s.id), ...strings.flatMap((s) => pinsOf(chart, s))]);
  const marks = new Set(trials.flatMap((t) => t.inspects ?? []));
  const concerns = (h: Harm<StringHarm>): Harm<StringHarm>[] => onlyOn(h, h.does === 'mark' ? marks : names);
  const list = faultList<StringHarm>(concerns, times);
  const bad = (s: Illumination) => (shows.get(s.id) ?? 'lit') !== 'lit' || asked.size > 0 || plugs.size > 0 || hot;
  for (const string of strings) stringFaults(list, chart, priors, string, bad(string));
  const looks = seen.flatMap((s) => looksOf(chart, strings, s));
  const { notes, ...scene } = fieldOf({ faults: list.faults, looks, trials, results: all, focus: (e) => list.focus.has(e) });
  const strange = [...shows.keys()].filter((id) => !chart.illumination.some((s) => s.id === id));
  return {
    ...scene,
    elements: list.elements,
    where: list.where,
    notes: [...stringCautions(chart, seen, strings), ...stringsUnknown(strange), ...notes],
    urgent: urgentStrings(seen),
    wrong: strings.length > 0 && seen.some(misbehaves),
    cleared: stringsCleared(seen),
  };
}

const headerOf = (pin: string): string => pin.slice(0, pin.indexOf('-'));

function misbehaves(seen: StringSeen): boolean {
  if (seen.kind === 'drop') return seen.millivolts >= suspectFrom;
  return seen.kind === 'plug' ? seen.looks === 'brown' : seen.shows !== 'lit' || seen.smells === true;
}

function looksOf(chart: Chart, strings: readonly Illumination[], seen: StringSeen): Look<StringHarm>[] {
  if (seen.kind === 'drop') return []; // taken as the result of its test
  if (seen.kind === 'plug') {
    const pins = strings.flatMap((s) => pinsOf(chart, s)).filter((p) => headerOf(p) === seen.header);
    const brown = (harms: readonly Harm<StringHarm>[]) => brownOf(harms, pins);
    const chance = (harms: readonly Harm<StringHarm>[]) => (seen.looks === 'brown' ? brown(harms) : 1 - brown(harms));
    return [
      { what: `The plug on ${seen.header} is ${seen.looks}`, hears: hearing<StringHarm>(pins, ...warm), chance, usual: brownOf([], pins) },
    ];
  }
  const string = strings.find((s) => s.id === seen.string);
  if (!string) return [];
  const at = stringSymptoms.indexOf(seen.shows);
  const shown: Look<StringHarm> = {
    what: `${seen.string} ${stringWords[at]?.label}`,
    hears: hearing([seen.string], ...stringLooks),
    chance: (harms) => stringChance(harms, seen.string)[at] ?? 0,
    usual: 1 - slip,
  };
  if (!seen.smells) return [shown];
  const near = [seen.string, ...pinsOf(chart, string)];
  const chance = (harms: readonly Harm<StringHarm>[]) => blurred(smellOf(harms, near), 2);
  return [
    shown,
    { what: `${seen.string} smells of burning`, hears: hearing<StringHarm>(near, ...warm, 'clip-high', 'shorted'), chance, usual: slip },
  ];
}
