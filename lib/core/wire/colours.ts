/** The wire colours, their codes and the short forms in use. */
import table from '@/content/colours.json';

export interface WireColour {
  name: string;
  iec60757: string | null; // letter code, IEC 60757
  digit: number | null; // IEC 60062
  short: string[]; // lower case; one that stands under several colours is ambiguous
}
export const colours: readonly WireColour[] = table.colours;
export const colourNames: readonly string[] = colours.map((c) => c.name);

const byWord = new Map<string, string[]>();
for (const c of colours) {
  for (const word of new Set([c.name, ...c.short])) byWord.set(word, [...(byWord.get(word) ?? []), c.name]);
}

/** Colours that a word may mean: one for a name, several for an ambiguous short form, none for anything else. */
export const coloursOf = (word: string): readonly string[] => byWord.get(word.toLowerCase()) ?? [];
export const colourOfLetters = (code: string) => colours.find((c) => c.iec60757 === code.toUpperCase())?.name;
export const colourOfDigit = (digit: number) => colours.find((c) => c.digit === digit)?.name;
/** Rank in the table of IEC 60757, which fixes the order of joined codes. */
export const letterRank = (name: string) => colours.findIndex((c) => c.name === name && c.iec60757 !== null);
