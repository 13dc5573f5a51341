/** The book's type for PDFs: static cuts, because a subset of a variable font would keep only its lightest outlines. */
import { join } from 'node:path';

export interface Face {
  bold?: boolean;
  mono?: boolean;
}

const packages = { sans: 'atkinson-hyperlegible-next', mono: 'atkinson-hyperlegible-mono' };
const cuts = ['latin', 'latin-ext', 'signs'] as const;
type Cut = (typeof cuts)[number];

/** Where each cut stands. The signs (Ω, ≤ and the like) are the same as on screen, in a wrapping that can be subset again. */
function fileOf(family: keyof typeof packages, cut: Cut, weight: 400 | 700): string {
  const root = process.cwd();
  return cut === 'signs'
    ? join(root, 'lib/print/fonts', `book-${family}-signs-${weight}.woff`)
    : join(root, 'node_modules/@fontsource', packages[family], 'files', `${packages[family]}-${cut}-${weight}-normal.woff`);
}

const fileFor = ({ bold, mono }: Face, cut: Cut) => fileOf(mono ? 'mono' : 'sans', cut, bold ? 700 : 400);

/** What a document begins with, so that none of the reader's own fonts is named in it. */
export const firstFont = () => fileFor({}, 'latin');

const extended = /[\u0100-\u0130\u0132-\u0151\u0154-\u02ba\u1e00-\u1eff\u20a0-\u20ab]/;
const signs = /[\u00b5\u03a9\u03bc\u2126\u2211\u221a\u221e\u2248\u2260\u2264\u2265]/;
const cutOf = (character: string): Cut => (signs.test(character) ? 'signs' : extended.test(character) ? 'latin-ext' : 'latin');

/** What neither cut has, in signs that it has. */
const spelled: Record<string, string> = {
  '→': '->',
  '←': '<-',
  '↔': '<->',
  '✓': 'yes',
  '☐': '[ ]',
  '☑': '[x]',
  '\u202f': '\u00a0',
  Σ: '\u2211',
};
/** Text as these fonts can set it. */
export const settable = (text: string): string => text.replace(/[→←↔✓☐☑\u202fΣ]/g, (sign) => spelled[sign] ?? sign);

/** Splits text where its font changes. */
export function pieces(text: string, face: Face): { font: string; text: string }[] {
  const all: { font: string; text: string }[] = [];
  for (const character of settable(text)) {
    const font = fileFor(face, cutOf(character)); // by its file: under a second name it would be opened anew each time
    const last = all.at(-1);
    if (last?.font === font) last.text += character;
    else all.push({ font, text: character });
  }
  return all;
}
