/**
 * The scoring. A question is a list of items, each in a group; an item's value on a fix is the best of the features it looks for (0 to 1),
 * a group's value the mean of its items by weight.
 *
 *   score = (3·device + near·(4·does + extent + 1.2·when + cause) + 1.6·words + 5·clue + 1.5·machine) · standing
 *   near  = 0.3 + 0.7·fits: the same fault elsewhere is worth little
 *   fits  = device, where the question names one; else how well the sort of circuit fits (switch, lamp, load), where it tells; else 1
 *
 * `words` weighs what no sign, device or clue explains more than what one does. `standing` is what is known of the fix (prior.ts).
 */
export const groups = ['device', 'sort', 'does', 'extent', 'when', 'cause', 'words', 'clue', 'machine'] as const;
export type Group = (typeof groups)[number];
export type Values = Record<Group, number>;

const weights: Omit<Values, 'sort'> = { device: 3, does: 4, extent: 1, when: 1.2, cause: 1, words: 1.6, clue: 5, machine: 1.5 };
const ofSame = new Set<Group>(['does', 'extent', 'when', 'cause']);
const elsewhere = 0.3;

/** What one full value of a group adds to each of the three sums that a score is made of. */
export interface Shares {
  apart: number;
  same: number; // counts as far as it fits
  fits: number;
}

/** `asked`: how much the question says in each group, 0 to 1; a group that it does not touch is 0. */
export function sharesOf(group: Group, asked: Values): Shares {
  const byDevice = asked.device === 1;
  if (group === 'sort') return { apart: 0, same: 0, fits: byDevice ? 0 : asked.sort };
  const weight = weights[group] * asked[group];
  return { apart: ofSame.has(group) ? 0 : weight, same: ofSame.has(group) ? weight : 0, fits: group === 'device' && byDevice ? 1 : 0 };
}

/** What fits where nothing speaks for it. */
export const leastFits = (asked: Values): number => (asked.device === 1 ? 0 : 1 - asked.sort);

export const scoreOf = (apart: number, same: number, fits: number): number => apart + (elsewhere + (1 - elsewhere) * fits) * same;

/** A fix below this part of the best one's score is not like the question. */
export const leastPart = 0.12;
/** Those above this part are counted as "like this" by cause. */
export const likePart = 0.6;
