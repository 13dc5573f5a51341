/** Text in pieces that are compared whole: words, stretches of white space, single signs. */
const piece = /[\p{L}\p{N}\p{M}_]+|\s+|[\s\S]/gu;

/** The pieces of a text; together they are the text. */
export const tokensOf = (text: string): string[] => text.match(piece) ?? [];

/** Its words and numbers. */
export const wordsOf = (text: string): string[] => text.match(/[\p{L}\p{N}\p{M}_]+/gu) ?? [];

export const isBlank = (text: string): boolean => text.trim() === '';

/** How much two lists of words share, 0 to 1, however they are ordered (the Sørensen–Dice coefficient). */
export function shared(before: readonly string[], after: readonly string[]): number {
  if (before.length + after.length === 0) return 1;
  const left = new Map<string, number>();
  for (const word of before) left.set(word, (left.get(word) ?? 0) + 1);
  let common = 0;
  for (const word of after) {
    const count = left.get(word) ?? 0;
    if (count > 0) {
      common += 1;
      left.set(word, count - 1);
    }
  }
  return (2 * common) / (before.length + after.length);
}
/** From this share of common words on, two texts are one that was changed (no source: it read best on pages of the demo club). */
export const alike = 0.4;
