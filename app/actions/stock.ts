'use server';
import * as z from 'zod';
import { requireRight } from '@/app/member';
import { getCatalogue, moveStock, stock } from '@/lib/store/parts';
import type { FormState } from '@/lib/ui/forms';
import { readForm } from './read';

export async function countStockAction(_: FormState, data: FormData): Promise<FormState> {
  const member = await requireRight('/parts', 'write', 'stock');
  const form = readForm(
    data,
    z.object({
      part: z.string().max(40),
      count: z.coerce
        .number('Write a number')
        .int('Write a whole number')
        .min(0, 'Fewer than none can’t be')
        .max(1_000_000, 'Write the number of pieces'),
    }),
  );
  if (!form.ok) return form.state;
  const { part, count } = form.value;
  const [{ catalogue }, onHand] = await Promise.all([getCatalogue(), stock()]);
  const known = catalogue.parts.find((p) => p.id === part);
  if (!known) return { values: { count: String(count) }, errors: { part: 'Choose a part from the list' } };
  const before = onHand[part] ?? 0;
  if (count !== before) await moveStock({ part, quantity: count - before, reason: 'counted', page: null, member: member.id });
  return { done: count === before ? `${known.name}: ${count}, as the book says.` : `${known.name}: ${count} now, ${before} before.` };
}
