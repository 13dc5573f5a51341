/** An archive to take away, for whoever may. */
import { type Action, can, type Thing } from '@/lib/access/can';
import { actorOf } from '@/lib/access/session';
import { exportArchive, type Scope } from '@/lib/archive/export';

/** The answer with the archive; `right` is what the asker needs besides reading the export. */
export async function archiveResponse(request: Request, what: Scope, right: [Action, Thing]): Promise<Response> {
  const member = await actorOf(request.headers);
  if (!member) return new Response('Sign in first.', { status: 401 });
  if (!can(member, 'read', 'export') || !can(member, ...right))
    return new Response(what.scope === 'club' ? 'Only an owner takes the whole club away.' : 'You may not read this.', { status: 403 });
  const archive = await exportArchive(what, { writeUps: can(member, 'read', 'report') });
  if (!archive) return new Response(`There is no such ${what.scope}.`, { status: 404 });
  const name = what.scope === 'club' ? 'club' : `${what.scope}-${what.id}`;
  return new Response(archive, {
    headers: {
      'content-type': 'application/zip',
      'content-disposition': `attachment; filename="${name.replace(/[^\w.-]/g, '_')}.zip"`,
      'cache-control': 'no-store',
    },
  });
}
