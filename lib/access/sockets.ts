/** Who may open a page's socket, and whether to write. Asked at the upgrade and again while the socket is open. */
import type { IncomingMessage } from 'node:http';
import { getPage } from '@/lib/store/pages';
import { can } from './can';
import { actorOf } from './session';

/** The member and the right to write, or the HTTP status to refuse with. */
export async function authorizePage(
  request: IncomingMessage,
  page: string,
): Promise<{ member: { id: string; name: string }; write: boolean } | 401 | 403 | 404> {
  const headers = new Headers();
  for (const name of ['cookie', 'authorization'] as const) {
    const value = request.headers[name];
    if (value) headers.set(name, value);
  }
  const member = await actorOf(headers);
  if (!member) return 401;
  if (!can(member, 'read', 'page')) return 403;
  if (!(await getPage(page))) return 404;
  return { member: { id: member.id, name: member.name }, write: can(member, 'write', 'page') };
}
