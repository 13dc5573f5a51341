/** Sentences as stems, so that "isn't registering" and "does not register" are the same words. */
import { stemmer } from 'stemmer';

export interface Token {
  text: string; // as written
  stem: string;
  from: number; // place in the sentence, characters
  to: number;
  /** It carries no meaning by itself. */
  filler: boolean;
}

const fillers = new Set(
  `a an the is are was were be been being am it its this that these those my our your his her their i we you he she they me us them there here
  do does did done has have had will would can could should shall may might must just really very quite so too simply actually and or to in at for of
  but then than who which what get gets getting got go goes going please help says said say seems seem appears`
    .split(/\s+/)
    .filter(Boolean),
);
const irregular: Record<string, string> = {
  blew: 'blow',
  blown: 'blow',
  fell: 'fall',
  stuck: 'stick',
  went: 'go',
  gone: 'gone',
  stood: 'stand',
  lost: 'lose',
  burnt: 'burn',
  lit: 'light',
};
// Porter's rules would make "on" of these.
const whole: Record<string, string> = { one: 'one', ones: 'one' };
const most = 50_000; // words kept

/** Keeps what a function made of a word. */
function keeping<T>(make: (word: string) => T): (word: string) => T {
  const kept = new Map<string, T>();
  return (word) => {
    const known = kept.get(word);
    if (known !== undefined) return known;
    const made = make(word);
    if (kept.size >= most) kept.clear();
    kept.set(word, made);
    return made;
  };
}

/** Porter's stem of a word in small letters; irregular forms that matter for faults go to their base. */
export const stemOf = keeping((word) => whole[word] ?? (/^\p{L}+$/u.test(word) ? stemmer(irregular[word] ?? word) : word));

const word = /[\p{L}\p{N}]+(?:['’]\p{L}+)?/gu;
const denying = new Set(['cannot', 'cant', 'wont', 'dont', 'doesnt', 'isnt', 'didnt']);

/** A word as it was written; "n't" becomes a "not". */
const wordOf = keeping((text): Pick<Token, 'stem' | 'filler'> => {
  const plain = text.toLowerCase().replace('’', "'");
  const telling = denying.has(plain) || plain.endsWith("n't") ? 'not' : plain.replace(/'.*$/, '');
  return { stem: stemOf(telling), filler: telling !== 'not' && fillers.has(telling) };
});

/** All words in order, fillers too. */
export function wordsOf(sentence: string): Token[] {
  const tokens: Token[] = [];
  for (const found of sentence.matchAll(word)) {
    const text = found[0];
    const { stem, filler } = wordOf(text);
    tokens.push({ text, stem, from: found.index, to: found.index + text.length, filler });
  }
  return tokens;
}

/** A name as it is compared: its telling stems. */
export const nameStems = (name: string): string =>
  wordsOf(name)
    .filter(({ filler }) => !filler)
    .map(({ stem }) => stem)
    .join(' ');
