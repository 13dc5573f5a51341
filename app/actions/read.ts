/** Reads a posted form with zod; what was typed goes back with what to mend. Passwords are not sent back. */
import type * as z from 'zod';
import type { FormState } from '@/lib/ui/forms';

const typed = (data: FormData): Record<string, string> =>
  Object.fromEntries(
    [...data].filter((entry): entry is [string, string] => typeof entry[1] === 'string' && !/password|^\$/i.test(entry[0])),
  );

export function readForm<T extends z.ZodType>(data: FormData, shape: T): { ok: true; value: z.infer<T> } | { ok: false; state: FormState } {
  const read = shape.safeParse(Object.fromEntries(data));
  if (read.success) return { ok: true, value: read.data };
  const errors: Record<string, string> = {};
  for (const issue of read.error.issues) errors[String(issue.path[0] ?? '')] ??= issue.message;
  return { ok: false, state: { values: typed(data), errors } };
}

export const refused = (data: FormData, message: string): FormState => ({ values: typed(data), message });
export const refusedField = (data: FormData, field: string, mend: string): FormState => ({
  values: typed(data),
  errors: { [field]: mend },
});
