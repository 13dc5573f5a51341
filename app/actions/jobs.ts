'use server';
import * as z from 'zod';
import { requireRight } from '@/app/member';
import { assignJob, setAside } from '@/lib/store/jobs';
import { getPage } from '@/lib/store/pages';
import type { FormState } from '@/lib/ui/forms';
import { readForm, refusedField } from './read';

export async function assignAction(_: FormState, data: FormData): Promise<FormState> {
  await requireRight('/', 'write', 'page');
  const form = readForm(data, z.object({ page: z.string().max(40), member: z.string().max(64) }));
  if (!form.ok) return form.state;
  const { page, member } = form.value;
  if (!(await getPage(page))) return { message: 'This page is gone.' };
  if (!(await assignJob(page, member || null))) return refusedField(data, 'member', 'That member has left; choose another, or nobody');
  return { done: member ? 'Given.' : 'It is nobody’s now.' };
}

export async function asideAction(_: FormState, data: FormData): Promise<FormState> {
  await requireRight('/', 'write', 'page');
  const form = readForm(
    data,
    z.object({ page: z.string().max(40), reason: z.string().trim().max(200, 'Keep the reason under 200 characters') }),
  );
  if (!form.ok) return form.state;
  const { page, reason } = form.value;
  if (!(await getPage(page))) return { message: 'This page is gone.' };
  await setAside(page, reason || null);
  return { done: reason ? 'Set aside.' : 'Taken up again.' };
}
