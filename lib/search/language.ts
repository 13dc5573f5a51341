/** The words that the search reads with: how people speak of faults, groups of words that mean the same, the names on the charts. */
import symptoms from '@/content/symptoms.json';
import type { Chart } from '@/lib/core/chart/types';
import { type Lexicon, makeLexicon } from '@/lib/core/symptom/lexicon';
import { wordsOf } from '@/lib/core/symptom/tokens';
import type { Symptoms } from '@/lib/core/symptom/types';
import type { Vocabulary } from './read-query';

const spoken = symptoms as Symptoms;

export const namesOn = (charts: readonly Chart[]): string[] =>
  charts.flatMap((chart) => [...chart.circuits, ...chart.loads, ...chart.lamps].map(({ name }) => name));

type Groups = readonly (readonly string[])[];
let kept: { charts: readonly Chart[]; groups: string; lexicon: Lexicon } | null = null;

/** Made anew when a chart or a group of words is another one. */
export function lexiconFor(charts: readonly Chart[], groups: Groups): Lexicon {
  const words = JSON.stringify(groups);
  if (kept?.groups === words && kept.charts.length === charts.length && charts.every((chart, n) => chart === kept?.charts[n]))
    return kept.lexicon;
  kept = { charts: [...charts], groups: words, lexicon: makeLexicon(spoken, groups, namesOn(charts)) };
  return kept.lexicon;
}

export const vocabularyOf = (charts: readonly Chart[], groups: Groups): Vocabulary => ({
  machines: charts.map((c) => ({ id: c.machine.id, title: c.title })),
  designs: [...new Set(charts.map((c) => c.design.id))],
  thesaurus: groups,
});

/** Every word that some phrase or name has, for slips of the finger. */
export function knownWords(charts: readonly Chart[], groups: Groups): Set<string> {
  const phrases = [
    ...spoken.works,
    ...spoken.steadily,
    ...spoken.pairs.flatMap(({ first, second }) => [...first, ...second]),
    ...[spoken.does, spoken.extent, spoken.when, spoken.sides, spoken.devices].flatMap((sayings) => sayings.flatMap(({ says }) => says)),
    ...groups.flat(),
    ...namesOn(charts),
    ...charts.map((c) => c.title),
  ];
  return new Set(phrases.flatMap((phrase) => wordsOf(phrase).map(({ text }) => text.toLowerCase())));
}
