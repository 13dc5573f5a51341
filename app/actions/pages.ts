'use server';
import { redirect } from 'next/navigation';
import * as z from 'zod';
import { requireRight } from '@/app/member';
import { live } from '@/lib/live/house';
import { newPageDoc } from '@/lib/notebook/content';
import { newNote, newRepair } from '@/lib/notebook/templates';
import { indexNow } from '@/lib/search/indexer';
import { getChartParts } from '@/lib/store/machines';
import { createPage, removePage } from '@/lib/store/pages';
import type { FormState } from '@/lib/ui/forms';
import { readForm, refused } from './read';

export async function newPageAction(_: FormState, data: FormData): Promise<FormState> {
  const member = await requireRight('/pages/new', 'create', 'page');
  const form = readForm(
    data,
    z.object({
      title: z
        .string()
        .trim()
        .min(1, 'Say in a few words what is wrong')
        .max(200, 'Keep the title under 200 characters; the story goes below it'),
      machine: z.string().max(64),
    }),
  );
  if (!form.ok) return form.state;
  const { title, machine } = form.value;
  if (machine && !(await getChartParts(machine))) return refused(data, 'That machine is no longer in the notebook; choose another.');
  const content = machine ? newRepair({ title }) : newNote({ title });
  const page = await createPage({ machineId: machine || null, member: member.id, update: newPageDoc(content) });
  await indexNow(page.id);
  redirect(`/pages/${page.id}/write`);
}

export async function removePageAction(_: FormState, data: FormData): Promise<FormState> {
  const member = await requireRight('/', 'remove', 'page');
  const form = readForm(data, z.object({ page: z.string().max(40) }));
  if (!form.ok) return form.state;
  if (await removePage(form.value.page, member.id)) live().closePage(form.value.page);
  redirect('/');
}
