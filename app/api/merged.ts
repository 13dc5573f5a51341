/** What saving a chart joined, and what it could not. */
import * as z from 'zod';
import type { Change } from '@/lib/core/chart/differences';
import type { Conflict } from '@/lib/core/chart/merge';
import { problem } from '@/lib/http/problem';
import { conflictWords } from '@/lib/store/charts';

export const mergedCells = z
  .array(z.object({ label: z.string(), before: z.unknown().optional(), after: z.unknown().optional() }))
  .describe('what others had saved since the version that was changed; it is in the chart that was kept');

export const mergedOf = (changes: readonly Change[]) => changes.map(({ label, before, after }) => ({ label, before, after }));

/** 409: each cell that both changed, with both values. */
export const conflictProblem = (conflicts: readonly Conflict[]) =>
  problem(
    409,
    conflicts.length > 0
      ? 'Somebody changed the same cells of this chart meanwhile. Nothing was saved.'
      : 'Somebody changed this chart meanwhile. Read it again, and make your change on that version.',
    conflicts.map((conflict) => ({ field: conflict.label, ...conflictWords(conflict) })),
  );
