/** Everything that a reading knows words for, ready to be looked up. */
import { atOneGo, type Example, type Guess, learn } from './guess';
import { Phrases, type Said } from './phrases';
import { nameStems, wordsOf } from './tokens';
import { type Saying, type SignKind, type Symptoms, signKinds } from './types';

/**
 * The lists: the kinds of signs; `cause`; `device` and `side`; `name`, circuits of the club's
 * charts; `concept`, groups of the thesaurus; `works` and `steadily`; and the two of each pair.
 */
export interface Lexicon {
  phrases: Phrases;
  pairs: { kind: SignKind; id: string; name: string; first: string; second: string }[];
  /** What each kind of sign may be by words that no phrase has; of devices what the club has taught (speech.ts). */
  guess: Record<Guessed | 'device', Guess>;
  /** Devices by names on charts that do not tell them, by the name's stems: as the club has taught. */
  roles: ReadonlyMap<string, string>;
  /** Names of signs and roles by kind and id. */
  nameOf(kind: SignKind | 'cause' | 'device', id: string): string;
}

export type Guessed = 'does' | 'extent';
export type Examples = Record<Guessed, Example[]>;
const mostNeutral = 2500;

/** What the phrases teach. */
export function phraseExamples({ openings, devices, does, extent, when }: Symptoms): Examples {
  const about = (own: Saying[], others: Saying[][]): Example[] => {
    const neutral = others.flat().flatMap(({ says }) => says);
    const each = Math.ceil(neutral.length / mostNeutral);
    return [
      ...own.flatMap(({ id, says }) => says.map((phrase) => ({ words: wordsOf(phrase), shares: new Map([[id, 1]]) }))),
      ...[...openings, ...neutral.filter((_, n) => n % each === 0)].map((phrase) => ({ words: wordsOf(phrase), shares: null })),
    ];
  };
  return { does: about(does, [devices, when, extent]), extent: about(extent, [devices, when, does]) };
}

const learnt = new WeakMap<Symptoms, Record<Guessed, Guess>>();
/** The phrases are the same for every club. */
function guessesOf(symptoms: Symptoms): Record<Guessed, Guess> {
  const known = learnt.get(symptoms);
  if (known) return known;
  const examples = phraseExamples(symptoms);
  const idsOf = (sayings: Saying[]) => sayings.map(({ id }) => id);
  const made = {
    does: atOneGo(learn(idsOf(symptoms.does), examples.does)),
    extent: atOneGo(learn(idsOf(symptoms.extent), examples.extent)),
  };
  learnt.set(symptoms, made);
  return made;
}

/** `concepts`: groups of words that mean the same; `names`: circuits of all charts. */
export function makeLexicon(symptoms: Symptoms, concepts: readonly (readonly string[])[], names: Iterable<string>): Lexicon {
  const phrases = new Phrases();
  const named = new Map<string, string>();
  const fill = (said: Said, says: readonly string[]) => {
    for (const phrase of says) phrases.add(phrase, said);
  };
  for (const list of [...signKinds, 'cause', 'device'] as const)
    for (const { id, name, says } of list === 'device' ? symptoms.devices : list === 'cause' ? symptoms.causes : symptoms[list]) {
      named.set(`${list} ${id}`, name);
      fill({ list, id, name }, list === 'cause' ? says : [name, ...says]);
    }
  for (const { id, says } of symptoms.sides) fill({ list: 'side', id, name: id }, says);
  for (const words of concepts) fill({ list: 'concept', id: words[0] ?? '', name: words[0] ?? '', also: [...words] }, words);
  for (const name of new Set(names)) {
    const id = nameStems(name);
    if (id) phrases.add(name, { list: 'name', id, name: id });
  }
  fill({ list: 'works', id: '', name: '' }, symptoms.works);
  fill({ list: 'steadily', id: '', name: '' }, symptoms.steadily);
  fill({ list: 'without', id: '', name: '' }, symptoms.without);
  fill({ list: 'cleared', id: '', name: '' }, symptoms.cleared);
  const pairs = symptoms.pairs.map(({ kind, id, first, second }, n) => {
    fill({ list: `first ${n}`, id, name: '' }, first);
    fill({ list: `second ${n}`, id, name: '' }, second);
    return { kind, id, name: named.get(`${kind} ${id}`) ?? id, first: `first ${n}`, second: `second ${n}` };
  });
  return {
    phrases,
    pairs,
    guess: { ...guessesOf(symptoms), device: () => [] },
    roles: new Map(),
    nameOf: (kind, id) => named.get(`${kind} ${id}`) ?? id,
  };
}
