/** Personal access tokens, for scripts: they may do what their member may do. */
import { createToken, revokeToken as end, listTokens as listOf, type TokenRow } from '@/lib/store/tokens';
import type { Member } from '@/lib/store/types';
import { hashOf, newToken } from './secret-tokens';

export const tokenPrefix = 'fbk_';

/** Makes a token; its text is given now and never again. */
export async function makeToken(member: Member, name: string): Promise<{ token: string; row: TokenRow }> {
  const token = tokenPrefix + newToken();
  return { token, row: await createToken({ hash: hashOf(token), name, member: member.id }) };
}
export const listTokens = (member: Member): Promise<TokenRow[]> => listOf(member.id);
/** Ends one of the member's own tokens; false when it is not theirs. */
export const revokeToken = (member: Member, id: string): Promise<boolean> => end(id, member.id);
