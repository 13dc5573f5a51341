'use server';
/** Takes a photo off a chart. It stays in earlier versions. */
import { redirect } from 'next/navigation';
import * as z from 'zod';
import { requireRight } from '@/app/member';
import { chartPhoto } from '@/lib/core/chart/schema';
import { recomputeLater } from '@/lib/search/dependents';
import { takeOffPhoto } from '@/lib/store/chart-photos';
import type { FormState } from '@/lib/ui/forms';
import { readForm, refused } from './read';

export async function takeOffPhotoAction(_: FormState, data: FormData): Promise<FormState> {
  const member = await requireRight('/machines', 'write', 'machine');
  const form = readForm(data, z.object({ kind: z.enum(['machine', 'design']), id: z.string().max(64), picture: chartPhoto.shape.picture }));
  if (!form.ok) return form.state;
  const { kind, id, picture } = form.value;
  const kept = await takeOffPhoto(kind, id, picture, member.id);
  if (!kept.ok) return refused(data, 'Somebody changed this chart meanwhile. Look again.');
  await recomputeLater(kind, id);
  redirect(`/${kind}s/${encodeURIComponent(id)}#photos`);
}
