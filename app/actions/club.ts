'use server';
import * as z from 'zod';
import { requireMember, requireRight } from '@/app/member';
import { changeRole, makeInvite, removeMember } from '@/lib/access/accounts';
import { roles } from '@/lib/access/can';
import { makeToken, revokeToken } from '@/lib/access/tokens';
import { live } from '@/lib/live/house';
import { revokeInvite } from '@/lib/store/invites';
import { settings } from '@/lib/store/settings';
import type { FormState } from '@/lib/ui/forms';
import { readForm, refused } from './read';

const role = z.enum(roles, 'Choose a role');
const id = z.string().min(1).max(64);

export async function inviteAction(_: FormState, data: FormData): Promise<FormState> {
  const member = await requireRight('/club', 'create', 'invite');
  const form = readForm(data, z.object({ role }));
  if (!form.ok) return form.state;
  const invite = await makeInvite(form.value.role, member);
  return {
    done: 'Pass this link on. It is shown only now and works once.',
    keep: { label: 'Invite link', text: `${settings().baseUrl}/join/${invite.token}` },
  };
}

export async function revokeInviteAction(_: FormState, data: FormData): Promise<FormState> {
  await requireRight('/club', 'remove', 'invite');
  const form = readForm(data, z.object({ invite: id }));
  if (!form.ok) return form.state;
  await revokeInvite(form.value.invite);
  return { done: 'Taken back.' };
}

export async function roleAction(_: FormState, data: FormData): Promise<FormState> {
  await requireRight('/club', 'manage', 'member');
  const form = readForm(data, z.object({ member: id, role }));
  if (!form.ok) return form.state;
  const result = await changeRole(form.value.member, form.value.role);
  if (!result.ok) return refused(data, result.message);
  await live().recheck(form.value.member);
  return { done: `Now ${form.value.role}.` };
}

export async function removeMemberAction(_: FormState, data: FormData): Promise<FormState> {
  await requireRight('/club', 'remove', 'member');
  const form = readForm(data, z.object({ member: id }));
  if (!form.ok) return form.state;
  const result = await removeMember(form.value.member);
  if (!result.ok) return refused(data, result.message);
  live().closeMember(form.value.member);
  return { done: 'Removed. What they wrote stays.' };
}

export async function makeTokenAction(_: FormState, data: FormData): Promise<FormState> {
  const member = await requireMember('/club');
  const form = readForm(data, z.object({ name: z.string().trim().min(1, 'Say what it is for').max(80) }));
  if (!form.ok) return form.state;
  const made = await makeToken(member, form.value.name);
  return { done: 'Copy it now; it is not shown again.', keep: { label: 'Access token', text: made.token } };
}

export async function revokeTokenAction(_: FormState, data: FormData): Promise<FormState> {
  const member = await requireMember('/club');
  const form = readForm(data, z.object({ token: id }));
  if (!form.ok) return form.state;
  await revokeToken(member, form.value.token);
  return { done: 'It no longer works.' };
}
