/** Everything that a reading knows words for, ready to be looked up. */
import { Phrases, type Said } from './phrases';
import { nameStems } from './tokens';
import { type SignKind, type Symptoms, signKinds } from './types';

/**
 * The lists: the kinds of signs; `cause`; `device` and `side`; `name`, circuits of the club's
 * charts; `concept`, groups of the thesaurus; `works` and `steadily`; and the two of each pair.
 */
export interface Lexicon {
  phrases: Phrases;
  pairs: { kind: SignKind; id: string; name: string; first: string; second: string }[];
  /** Names of signs and roles by kind and id. */
  nameOf(kind: SignKind | 'cause' | 'device', id: string): string;
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
  const pairs = symptoms.pairs.map(({ kind, id, first, second }, n) => {
    fill({ list: `first ${n}`, id, name: '' }, first);
    fill({ list: `second ${n}`, id, name: '' }, second);
    return { kind, id, name: named.get(`${kind} ${id}`) ?? id, first: `first ${n}`, second: `second ${n}` };
  });
  return { phrases, pairs, nameOf: (kind, id) => named.get(`${kind} ${id}`) ?? id };
}
