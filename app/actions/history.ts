'use server';
import { redirect } from 'next/navigation';
import * as z from 'zod';
import { requireRight } from '@/app/member';
import { live } from '@/lib/live/house';
import { restoreInto } from '@/lib/notebook/restore';
import { indexNow } from '@/lib/search/indexer';
import { listStretches, nameVersion, pageAt } from '@/lib/store/history';
import { getPage } from '@/lib/store/pages';
import type { FormState } from '@/lib/ui/forms';
import { momentOf } from '@/lib/ui/history-words';
import { readForm, refused } from './read';

const page = z.string().max(64);
const number = z
  .string()
  .regex(/^\d{1,15}$/)
  .transform(Number); // prettier-ignore
const gone = 'This page has been removed, or never had this point. Load its history again.';

export async function nameVersionAction(_: FormState, data: FormData): Promise<FormState> {
  const member = await requireRight('/', 'write', 'page');
  const form = readForm(data, z.object({ page, number, name: z.string().trim().max(80, 'Keep the name to 80 characters') }));
  if (!form.ok) return form.state;
  const { page: id, number: at, name } = form.value;
  const named = await nameVersion(id, at, name, member.id);
  if (!named.ok) return refused(data, named.message);
  redirect(`/pages/${encodeURIComponent(id)}/history?at=${at}`);
}

/** The page reads again as it did then: one new change. The point that is left gets a name, so that it can be found and stays a point. */
export async function bringBackAction(_: FormState, data: FormData): Promise<FormState> {
  const member = await requireRight('/', 'write', 'page');
  const form = readForm(data, z.object({ page, number }));
  if (!form.ok) return form.state;
  const { page: id, number: at } = form.value;
  const newestOf = async () => (await listStretches(id)).reduce((newest, s) => (s.number > newest.number ? s : newest));
  const past = (await getPage(id)) ? await pageAt(id, at) : null;
  if (!past) return { message: gone };
  try {
    const left = await newestOf();
    if (left.name === null)
      await nameVersion(id, left.number, `Before going back on ${momentOf({ at: new Date().toISOString() })}`, member.id);
    await live().change(id, member.id, (doc) => restoreInto(doc, past.doc));
    await indexNow(id);
    const now = await newestOf();
    redirect(`/pages/${encodeURIComponent(id)}/history?at=${now.number}&undo=${left.number}`);
  } finally {
    past.doc.destroy();
  }
}
