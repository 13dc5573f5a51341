'use server';
import { cookies, headers } from 'next/headers';
import { redirect } from 'next/navigation';
import * as z from 'zod';
import { acceptInvite, createFirstOwner, signIn } from '@/lib/access/accounts';
import { newAccount } from '@/lib/access/new-account';
import { setSetting } from '@/lib/store/club';
import type { FormState } from '@/lib/ui/forms';
import { readForm, refused } from './read';

/** A path of our own; anything else leads home. */
const ownPath = (next: string) => (/^\/(?![/\\])/.test(next) ? next : '/');

/** Hands the session's cookies on to the browser. */
async function keepCookies(list: string[]) {
  const jar = await cookies();
  for (const line of list) {
    const [pair, ...attributes] = line.split('; ');
    const at = pair?.indexOf('=') ?? -1;
    if (!pair || at < 1) continue;
    const given = Object.fromEntries(attributes.map((a) => [a.split('=')[0]?.toLowerCase(), a.split('=')[1] ?? true]));
    jar.set(pair.slice(0, at), decodeURIComponent(pair.slice(at + 1)), {
      httpOnly: true,
      sameSite: 'lax',
      path: '/',
      secure: given.secure === true,
      maxAge: given['max-age'] === undefined ? undefined : Number(given['max-age']),
    });
  }
}

async function enter(email: string, password: string): Promise<string | null> {
  const result = await signIn(email, password, await headers());
  if (!result.ok) return result.message;
  await keepCookies(result.cookies);
  return null;
}

export async function signInAction(_: FormState, data: FormData): Promise<FormState> {
  const form = readForm(
    data,
    z.object({ email: z.string().max(200), password: z.string().max(200), next: z.string().max(500).default('/') }),
  );
  if (!form.ok) return form.state;
  const message = await enter(form.value.email, form.value.password);
  if (message) return refused(data, message);
  redirect(ownPath(form.value.next));
}

export async function firstOwnerAction(_: FormState, data: FormData): Promise<FormState> {
  const form = readForm(data, newAccount.extend({ club: z.string().trim().min(1, 'Name the club or workshop').max(80) }));
  if (!form.ok) return form.state;
  const made = await createFirstOwner(form.value);
  if (!made.ok) return refused(data, made.message);
  await setSetting('club.name', form.value.club);
  await enter(form.value.email, form.value.password);
  redirect('/');
}

export async function joinAction(_: FormState, data: FormData): Promise<FormState> {
  const form = readForm(data, newAccount.extend({ invite: z.string().max(200) }));
  if (!form.ok) return form.state;
  const made = await acceptInvite(form.value.invite, form.value);
  if (!made.ok) return refused(data, made.message);
  await enter(form.value.email, form.value.password);
  redirect('/');
}
