'use server';
import * as z from 'zod';
import { requireRight } from '@/app/member';
import { readLines, setClubGroups } from '@/lib/search/thesaurus';
import type { FormState } from '@/lib/ui/forms';
import { readForm, refusedField } from './read';

export async function setThesaurusAction(_: FormState, data: FormData): Promise<FormState> {
  await requireRight('/club', 'write', 'page');
  const form = readForm(data, z.object({ lines: z.string().max(200_000, 'That is more than a thesaurus holds') }));
  if (!form.ok) return form.state;
  const read = readLines(form.value.lines);
  if (!read.ok) return refusedField(data, 'lines', read.message);
  await setClubGroups(read.groups);
  return { done: `${read.groups.length} groups. The next search reads every page with them.` };
}
