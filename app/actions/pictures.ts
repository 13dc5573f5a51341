'use server';
/** Removes a picture for good. */
import { redirect } from 'next/navigation';
import * as z from 'zod';
import { requireRight } from '@/app/member';
import { maySeePicture } from '@/lib/access/pictures';
import { chartPhoto } from '@/lib/core/chart/schema';
import { removeForGood } from '@/lib/files/pictures';
import type { FormState } from '@/lib/ui/forms';
import { readForm, refused } from './read';

export async function removePictureAction(_: FormState, data: FormData): Promise<FormState> {
  const member = await requireRight('/', 'remove', 'file');
  const form = readForm(data, z.object({ hash: chartPhoto.shape.picture }));
  if (!form.ok) return { message: 'This screen is out of date. Load it again.' };
  const { hash } = form.value;
  if (!(await maySeePicture(member, hash)) || !(await removeForGood(hash, member.id)))
    return refused(data, 'There is no such picture any more.');
  redirect(`/pictures/${hash}`);
}
