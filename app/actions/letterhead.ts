'use server';
/** Keeps what stands at the head of write-ups. */
import * as z from 'zod';
import { requireRight } from '@/app/member';
import { isCurrency, readMoney } from '@/lib/core/money';
import { getLetterhead, setLetterhead } from '@/lib/store/letterhead';
import type { FormState } from '@/lib/ui/forms';
import { readForm, refusedField } from './read';

export async function letterheadAction(_: FormState, data: FormData): Promise<FormState> {
  await requireRight('/club', 'manage', 'club');
  const form = readForm(
    data,
    z.object({
      name: z.string().trim().min(1, 'Write the name that customers know').max(120, 'Keep the name under 120 characters'),
      address: z
        .string()
        .max(600, 'Keep the address under 600 characters')
        .transform((text) => text.split(/\r?\n/).map((line) => line.trim()))
        .transform((all) => all.filter(Boolean))
        .refine((all) => all.length <= 8, 'Keep the address to 8 lines'),
      currency: z.string().trim().toUpperCase().refine(isCurrency, 'Write a currency by its three letters, such as GBP'),
      rate: z.string().trim(),
    }),
  );
  if (!form.ok) return form.state;
  const { name, address, currency, rate: typed } = form.value;
  const rate = typed === '' ? null : readMoney(typed, currency);
  if (typed !== '' && rate === null) return refusedField(data, 'rate', `Write a sum in ${currency}, such as 30, or leave it empty`);
  const { logo } = await getLetterhead();
  await setLetterhead({ name, address, currency, rate, logo });
  return { done: 'Kept. The next write-up you send carries it.' };
}
