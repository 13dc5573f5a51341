/** The words that the search reads with: how people speak of faults, groups of words that mean the same, the names on the charts. */
import symptoms from '@/content/symptoms.json';
import type { Chart } from '@/lib/core/chart/types';
import { type Lexicon, makeLexicon } from '@/lib/core/symptom/lexicon';
import { learnSpeech, type Speech, type Told } from '@/lib/core/symptom/speech';
import { wordsOf } from '@/lib/core/symptom/tokens';
import type { Symptoms } from '@/lib/core/symptom/types';
import type { Vocabulary } from './read-query';

const spoken = symptoms as Symptoms;

export const namesOn = (charts: readonly Chart[]): string[] =>
  charts.flatMap((chart) => [...chart.circuits, ...chart.loads, ...chart.lamps].map(({ name }) => name));

type Groups = readonly (readonly string[])[];
let kept: { charts: readonly Chart[]; groups: string; speech: Speech | null; lexicon: Lexicon } | null = null;

/** Made anew when a chart, a group of words or what was learnt of the club's speech is another one. */
export function lexiconFor(charts: readonly Chart[], groups: Groups, speech: Speech | null): Lexicon {
  const words = JSON.stringify(groups);
  const same = kept?.groups === words && kept.speech === speech && kept.charts.length === charts.length;
  if (kept && same && charts.every((chart, n) => chart === kept?.charts[n])) return kept.lexicon;
  kept = { charts: [...charts], groups: words, speech, lexicon: { ...makeLexicon(spoken, groups, namesOn(charts)), ...speech } };
  return kept.lexicon;
}

/** From these fixes; `lexicon` knows nothing of them yet. */
export const speechOf = (fixes: readonly Told[], lexicon: Lexicon) => learnSpeech(fixes, lexicon, spoken);

export const vocabularyOf = (charts: readonly Chart[], groups: Groups): Vocabulary => ({
  machines: charts.map((c) => ({ id: c.machine.id, title: c.title })),
  designs: [...new Set(charts.map((c) => c.design.id))],
  thesaurus: groups,
});

const ofDevice = 10;

/** Every word that some phrase or name has, by how often, for slips of the finger: what is typed is a device sooner than anything else. */
export function knownWords(charts: readonly Chart[], groups: Groups): Map<string, number> {
  const devices = [...spoken.devices.flatMap(({ says }) => says), ...namesOn(charts), ...charts.map((c) => c.title)];
  const others = [
    ...spoken.works,
    ...spoken.steadily,
    ...spoken.openings,
    ...spoken.without,
    ...spoken.cleared,
    ...spoken.pairs.flatMap(({ first, second }) => [...first, ...second]),
    ...[spoken.sort, spoken.does, spoken.extent, spoken.when, spoken.causes, spoken.sides].flatMap((sayings) =>
      sayings.flatMap(({ says }) => says),
    ),
    ...groups.flat(),
  ];
  const words = new Map<string, number>();
  const add = (phrase: string, weight: number) => {
    for (const { text } of wordsOf(phrase)) words.set(text.toLowerCase(), weight + (words.get(text.toLowerCase()) ?? 0));
  };
  for (const phrase of others) add(phrase, 1);
  for (const phrase of devices) add(phrase, ofDevice);
  return words;
}
