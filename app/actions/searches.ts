'use server';
import { redirect } from 'next/navigation';
import * as z from 'zod';
import { requireRight } from '@/app/member';
import { askedAs, readAsked } from '@/lib/search/address';
import { forgetSearch, saveSearch } from '@/lib/store/saved-searches';
import type { FormState } from '@/lib/ui/forms';
import { readForm } from './read';

const longestName = 60;

export async function saveSearchAction(_: FormState, data: FormData): Promise<FormState> {
  const member = await requireRight('/search', 'read', 'search');
  const form = readForm(
    data,
    z.object({
      name: z.string().trim().min(1, 'Give it a name').max(longestName, `Keep the name under ${longestName} characters`),
      asked: z.string().max(2000),
    }),
  );
  if (!form.ok) return form.state;
  const params = new URLSearchParams(form.value.asked);
  const asked = askedAs(readAsked(Object.fromEntries([...params.keys()].map((key) => [key, params.getAll(key)]))));
  await saveSearch({ member: member.id, name: form.value.name, asked });
  return { done: `Kept as “${form.value.name}”. It stands on the Fixes page.` };
}

export async function forgetSearchAction(data: FormData): Promise<void> {
  const member = await requireRight('/search', 'read', 'search');
  await forgetSearch(String(data.get('id') ?? ''), member.id);
  redirect('/search');
}
