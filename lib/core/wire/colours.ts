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

const byShort = new Map<string, string[]>();
for (const { name, short } of colours) for (const form of short) byShort.set(form, [...(byShort.get(form) ?? []), name]);

/** What one word may mean as a colour: its colours, and whether the word is a full name, a letter code or a short form. */
export interface ColourWord {
  colours: readonly string[];
  as: 'names' | 'letters' | 'short';
}

/** Reads one word, in any case; null when it is no colour. Several colours for an ambiguous short form. */
export function readColour(word: string): ColourWord | null {
  const plain = word.toLowerCase();
  const name = colours.find((c) => c.name === plain || c.spellings.includes(plain))?.name;
  if (name) return { colours: [name], as: 'names' };
  const coded = colours.find((c) => c.iec60757 === plain.toUpperCase())?.name;
  if (coded) return { colours: [coded], as: 'letters' };
  const meant = byShort.get(plain);
  return meant ? { colours: meant, as: 'short' } : null;
}

export const colourOfDigit = (digit: number): string | undefined => colours.find((c) => c.digit === digit)?.name;
export const colourOf = (name: string): WireColour | undefined => colours.find((c) => c.name === name);
