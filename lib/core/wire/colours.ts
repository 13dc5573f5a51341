/** The wire colours, their codes and the short forms in use. */
import table from '@/content/colours.json';

export interface WireColour {
  name: string;
  iec60757: string | null; // letter code, IEC 60757
  digit: number | null; // IEC 60062
  srgb: string; // #rrggbb of the swatch drawn by day
  spellings: string[]; // the same colour by another full word
  short: string[]; // lower case, the one to print first; one that stands under several colours is ambiguous
}
export const colours: readonly WireColour[] = table.colours;
export const colourNames: readonly string[] = colours.map((c) => c.name);

/** What one word may mean as a colour: its colours, and whether the word is a full name, a letter code or a short form. */
export interface ColourWord {
  colours: readonly string[];
  as: 'names' | 'letters' | 'short';
}

/** Every word that means a colour, lower case. A full name goes before a letter code, a code before a short form. */
const words = new Map<string, ColourWord>();
for (const { name, short } of colours) {
  for (const form of short) words.set(form, { colours: [...(words.get(form)?.colours ?? []), name], as: 'short' });
}
for (const { name, iec60757 } of colours) if (iec60757) words.set(iec60757.toLowerCase(), { colours: [name], as: 'letters' });
for (const { name, spellings } of colours) for (const word of [name, ...spellings]) words.set(word, { colours: [name], as: 'names' });

/** Reads one word, in any case; null when it is no colour. Several colours for an ambiguous short form. */
export const readColour = (word: string): ColourWord | null => words.get(word.toLowerCase()) ?? null;

export const colourOfDigit = (digit: number): string | undefined => colours.find((c) => c.digit === digit)?.name;
export const colourOf = (name: string): WireColour | undefined => colours.find((c) => c.name === name);
