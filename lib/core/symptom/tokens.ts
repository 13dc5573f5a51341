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
const stems = new Map<string, string>();
const mostStems = 50_000;

/** Porter's stem of a word in small letters; irregular forms that matter for faults go to their base. */
export function stemOf(word: string): string {
  const known = stems.get(word);
  if (known !== undefined) return known;
  const stem = whole[word] ?? (/^\p{L}+$/u.test(word) ? stemmer(irregular[word] ?? word) : word);
  if (stems.size >= mostStems) stems.clear();
  stems.set(word, stem);
  return stem;
}

const word = /[\p{L}\p{N}]+(?:['’]\p{L}+)?/gu;

/** All words in order, fillers too; "n't" becomes a "not" of its own. */
export function wordsOf(sentence: string): Token[] {
  const tokens: Token[] = [];
  for (const found of sentence.matchAll(word)) {
    const from = found.index;
    const to = from + found[0].length;
    const plain = found[0].toLowerCase().replace('’', "'");
    const token = (text: string) =>
      tokens.push({ text: found[0], stem: stemOf(text), from, to, filler: text !== 'not' && fillers.has(text) });
    if (
      plain === 'cannot' ||
      plain === 'cant' ||
      plain === 'wont' ||
      plain === 'dont' ||
      plain === 'doesnt' ||
      plain === 'isnt' ||
      plain === 'didnt' ||
      plain.endsWith("n't")
    )
      token('not');
    else token(plain.replace(/'.*$/, ''));
  }
  return tokens;
}

/** A name as it is compared: its telling stems. */
export const nameStems = (name: string): string =>
  wordsOf(name)
    .filter(({ filler }) => !filler)
    .map(({ stem }) => stem)
    .join(' ');
