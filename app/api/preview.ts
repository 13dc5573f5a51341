/** What previews of charts answer. */
import * as z from 'zod';

export const preview = z.object({
  pages: z.int().describe('pages that were computed from this chart'),
  changed: z
    .array(
      z.object({
        id: z.string(),
        title: z.string(),
        gains: z.array(z.string()).describe('facts that the page would have, by their labels'),
        loses: z.array(z.string()).describe('facts that it would no longer have'),
      }),
    )
    .describe('pages that would mean something else'),
});
