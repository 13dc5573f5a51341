/** Who is asking, for pages and actions. */
import { headers } from 'next/headers';
import { notFound, redirect } from 'next/navigation';
import { isFirstRun } from '@/lib/access/accounts';
import { type Action, can, type Thing } from '@/lib/access/can';
import { actorOf } from '@/lib/access/session';
import type { Member } from '@/lib/store/types';

/** The signed-in member; nobody is sent to sign in, and from there back to `here`. */
export async function requireMember(here: string): Promise<Member> {
  const member = await actorOf(await headers());
  if (member) return member;
  if (await isFirstRun()) redirect('/welcome');
  redirect(`/sign-in?next=${encodeURIComponent(here)}`);
}

/** The member, when they may do this; anyone else sees that there is no such page. */
export async function requireRight(here: string, action: Action, thing: Thing): Promise<Member> {
  const member = await requireMember(here);
  if (!can(member, action, thing)) notFound();
  return member;
}
