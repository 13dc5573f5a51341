/** A reading as its reader corrects it: terms struck out and terms added, each written `kind:value`. Pure. */
import type { Lexicon } from '@/lib/core/symptom/lexicon';
import { readSymptom } from '@/lib/core/symptom/read';
import { isFiller, type Slips } from '@/lib/core/symptom/slips';
import { type Reading, type SignKind, signKinds, type Term } from '@/lib/core/symptom/types';

export interface Correction {
  /** `does:dead`, `device:flipper`, `word:lane`: not meant. */
  not?: readonly string[];
  /** `does:sometimes`, `extent:line`, `when:warm`, `device:spinner`: meant. */
  as?: readonly string[];
}

export const termKey = ({ kind, value }: Pick<Term, 'kind' | 'value'>) => `${kind}:${value}`;
const readable = new Set<string>([...signKinds, 'device']);

/** Reads a query after its slips are put right and its last word, perhaps still being typed, is completed; then as its reader wants it. */
export function readCorrected(query: string, lexicon: Lexicon, slips: Slips, { not = [], as = [] }: Correction): Reading {
  const meant = new Map<string, string>();
  const put = query.replace(/(?<!["“][^"“”]*)\p{L}+(?:['’]\p{L}+)?/gu, (word, at: number) => {
    const plain = word.toLowerCase();
    // The last word may not be finished; "we" alone begins a word, after others it is one.
    const begun = at + word.length === query.length && (at === 0 || !isFiller(word)) ? slips.begun(plain) : null;
    const right = /['’]/.test(word) ? null : (begun ?? slips.meant(plain));
    if (right) meant.set(right, word);
    return right ?? word;
  });
  const read = readSymptom(put, lexicon).terms.map((term) => {
    const slip = term.text
      .toLowerCase()
      .split(/\s+/)
      .map((word) => meant.get(word))
      .find(Boolean);
    return slip ? { ...term, slip } : term;
  });
  const added = as.flatMap((key): Term[] => {
    const [kind = '', value = ''] = key.split(':');
    if (!readable.has(kind) || !value) return [];
    return [{ kind: kind as SignKind | 'device', value, label: lexicon.nameOf(kind as SignKind | 'device', value), text: '' }];
  });
  const single = added.some(({ kind }) => kind === 'extent');
  // What is struck out takes its words along, unless something else stands for them too.
  const saidIn = (terms: readonly Term[]) => new Set(terms.flatMap(({ text }) => text.toLowerCase().split(/\s+/)));
  const struck = read.filter((t) => not.includes(termKey(t)));
  const gone = saidIn(struck);
  const left = read.filter((t) => !struck.includes(t) && !(single && t.kind === 'extent'));
  const held = saidIn(left.filter((t) => t.kind !== 'word' && t.kind !== 'concept'));
  const stands = (t: Term) =>
    (t.kind !== 'word' && t.kind !== 'concept') || [...saidIn([t])].some((word) => !gone.has(word) || held.has(word));
  return { terms: [...left.filter(stands), ...added] };
}
