'use server';
import { redirect } from 'next/navigation';
import * as z from 'zod';
import { requireRight } from '@/app/member';
import { bringIn } from '@/lib/archive/bringing';
import { importArchive } from '@/lib/archive/import';
import type { Choice } from '@/lib/archive/preview';
import { readArchive } from '@/lib/archive/read';
import { shelved } from '@/lib/archive/shelf';
import type { FormState } from '@/lib/ui/forms';
import { readForm, refused } from './read';

const choice = z.enum(['keep', 'both', 'replace']);
const form = z.object({ file: z.string().max(20) });

export async function importAction(_: FormState, data: FormData): Promise<FormState> {
  const member = await requireRight('/club/import', 'manage', 'club');
  const sent = readForm(data, form);
  if (!sent.ok) return sent.state;
  const source = shelved(sent.value.file);
  if (!source) return refused(data, 'That archive is no longer here; a day has passed. Bring it again.');
  const choices: Record<string, Choice> = {};
  for (const [name, value] of data) {
    const chosen = name.startsWith('choice ') ? choice.safeParse(value) : null;
    if (chosen?.success) choices[name.slice('choice '.length)] = chosen.data;
  }
  // It goes on beside this answer; whoever pressed twice sees the first.
  bringIn(sent.value.file, async (tell) => {
    const read = readArchive(source);
    return read.ok ? importArchive(read.archive, choices, member.id, tell) : read;
  });
  redirect(`/club/import/${sent.value.file}`);
}
