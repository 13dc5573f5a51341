/** Who is asking: a session cookie, or a personal access token. */
import { getMember } from '@/lib/store/members';
import { tokenByHash } from '@/lib/store/tokens';
import type { Member } from '@/lib/store/types';
import { auth } from './auth';
import { hashOf } from './secret-tokens';
import { tokenPrefix } from './tokens';

/** The access token of an Authorization header, if any. The scheme's case does not matter (RFC 9110 § 11.1). */
export const bearerOf = (headers: Headers) => /^Bearer +(\S+)$/i.exec(headers.get('authorization') ?? '')?.[1] ?? null;

/** The member who asks; null for nobody, which is also what a removed member is. */
export async function actorOf(headers: Headers): Promise<Member | null> {
  const bearer = bearerOf(headers);
  const id = bearer !== null ? await memberOfToken(bearer) : ((await auth().api.getSession({ headers }))?.user.id ?? null);
  if (!id) return null;
  const member = await getMember(id);
  return member && !member.removedAt ? member : null;
}

const memberOfToken = async (token: string) =>
  token.startsWith(tokenPrefix) ? ((await tokenByHash(hashOf(token)))?.member ?? null) : null;
