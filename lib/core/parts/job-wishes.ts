/** What to write down for all parts of a job at once. */
import type { Wish } from './ledger';
import type { TallyLine } from './schema';

export const jobSteps = ['reserve', 'take', 'release'] as const;
export type JobStep = (typeof jobSteps)[number];

const wishes: Record<JobStep, (line: TallyLine, open: number, may: number) => Wish> = {
  reserve: (line, open, may) => ({ kind: 'reserved', pieces: Math.min(open, may) - line.reserved }),
  take: (_, open, may) => ({ kind: 'used', pieces: Math.min(open, may) }),
  release: (line) => ({ kind: 'released', pieces: line.reserved }),
};

/** As many of each line as it still needs and as there are; lines in plain words and those with nothing to write are left out. */
export function jobWishes(lines: readonly TallyLine[], step: JobStep): { part: string; wish: Wish }[] {
  return lines.flatMap((line) => {
    if (line.part === undefined || line.onHand === null) return [];
    const wish = wishes[step](line, Math.max(0, line.needed - line.used), Math.max(0, line.onHand - line.elsewhere));
    return wish.pieces > 0 ? [{ part: line.part, wish }] : [];
  });
}
