/** Second reading of a clue that was not understood whole: misspelt colours and words of the trade, numbers in words, joined and parted names. */
import { colours, readColour } from '../wire/colours';
import { clueWords } from './clue';
import { nearest } from './words';

/** What was typed and what it was taken for. */
export interface Mend {
  typed: string;
  read: string;
}
/** What the chart's own names are made of. */
export interface Names {
  has: (word: string) => boolean;
  /** The word, or the beginning of one. */
  begins: (word: string) => boolean;
}

const beforeNumbers = 'column row switch lamp direct strobe return coil flasher position number'.split(' ');
const counted = 'zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen'.split(' ');
const colourWords = colours.flatMap((c) => [c.name, ...c.spellings]);
const isNumber = (word = ''): boolean => /^[a-z]?\d{1,3}$/.test(word);
const isColour = (word: string): boolean => word.length > 1 && readColour(word) !== null;

/**
 * The clue with the words put right that are none of the chart's names, and what was put right. Null when nothing was. A word is taken
 * for a colour only beside another colour or alone, and for "column" or "switch" only before a number: else it is more likely a name.
 */
export function mendClue(clue: string, names: Names): { text: string; mends: Mend[] } | null {
  const mends: Mend[] = [];
  const put = (typed: string, read: string): string => {
    if (read !== typed) mends.push({ typed, read });
    return read;
  };
  const counts = clueWords(clue).map((word) => {
    const value = names.has(word) ? -1 : counted.indexOf(word);
    return value < 0 ? word : put(word, String(value));
  });
  const traded = counts.map((word, i) => {
    if (!isNumber(counts[i + 1]) || isNumber(word) || names.has(word)) return word;
    const trade = nearest(word, beforeNumbers, word.length >= 6 ? 2 : word.length >= 4 ? 1 : 0);
    return trade ? put(word, trade) : word;
  });
  const coloured = traded.map((word, i) => {
    const read =
      traded.length === 1 || [traded[i - 1], traded[i + 1]].some(nearColour) || /[-/]/.test(word) ? asColours(word, names) : null;
    return read ? put(word, read) : word;
  });
  const text = rejoined(coloured, names, put);
  return mends.length > 0 ? { text: text.join(' '), mends } : null;
}

/** One colour or two joined ones, each put right; null when a part is far from every colour or the chart has a name of it. */
function asColours(word: string, names: Names): string | null {
  const parts = word.split(/[-/]/);
  if (parts.length > 2 || parts.every(isColour) || (parts.length === 1 && names.begins(word))) return null;
  const read = parts.map((part) => (isColour(part) ? part : nearest(part, colourWords)));
  return read.every((part) => part !== null) ? read.join('/') : null;
}

const nearColour = (word: string | undefined): boolean =>
  word !== undefined &&
  (/^(stripe|striped|tracer)$/.test(word) || word.split(/[-/]/).every((part) => isColour(part) || nearest(part, colourWords)));

const shortestPart = 3; // letters

/** "tidegate" for "tide gate", "out lane" for "outlane". */
function rejoined(words: readonly string[], names: Names, put: (typed: string, read: string) => string): string[] {
  const out: string[] = [];
  for (let i = 0; i < words.length; i += 1) {
    const [word = '', next] = words.slice(i, i + 2);
    if (next !== undefined && names.has(word + next)) {
      out.push(put(`${word} ${next}`, word + next));
      i += 1;
    } else {
      const cut = names.begins(word) ? undefined : cutsOf(word).find((at) => names.has(word.slice(0, at)) && names.has(word.slice(at)));
      out.push(cut === undefined ? word : put(word, `${word.slice(0, cut)} ${word.slice(cut)}`));
    }
  }
  return out;
}

const cutsOf = (word: string): number[] =>
  Array.from({ length: Math.max(0, word.length - 2 * shortestPart + 1) }, (_, i) => i + shortestPart);
