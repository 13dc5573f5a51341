/** What an account needs, in the words that a form shows beside its fields. */
import * as z from 'zod';

export const newAccount = z.object({
  name: z.string().trim().min(1, 'Write your name').max(80, 'Keep the name to 80 characters'),
  email: z
    .string()
    .trim()
    .toLowerCase()
    .max(200, 'Keep the e-mail to 200 characters')
    .pipe(z.email('Write an e-mail address, such as ines@club.example')),
  password: z.string().min(10, 'Use ten characters or more').max(200, 'Keep it to 200 characters'),
});
export type NewAccount = z.infer<typeof newAccount>;

const labels: Record<string, string> = { name: 'Name', email: 'E-mail', password: 'Password' };

/** The account as it is kept, or one sentence that names each field and its mend. */
export function readAccount(given: NewAccount): { ok: true; account: NewAccount } | { ok: false; message: string } {
  const read = newAccount.safeParse(given);
  if (read.success) return { ok: true, account: read.data };
  const sentences = read.error.issues.map((issue) => `${labels[String(issue.path[0])] ?? 'Account'}: ${issue.message}.`);
  return { ok: false, message: sentences.join(' ') };
}
