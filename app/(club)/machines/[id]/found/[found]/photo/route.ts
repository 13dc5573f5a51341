/** Keeps or takes away the photo of a difference. */

import { pictureFrom } from '@/app/photo-form';
import { can } from '@/lib/access/can';
import { actorOf } from '@/lib/access/session';
import { withFoundPhoto } from '@/lib/core/chart/found';
import { sameOrigin } from '@/lib/http/origin';
import { recomputeLater } from '@/lib/search/dependents';
import { getMachine, putMachine } from '@/lib/store/machines';
import { holdOnMachine } from '@/lib/store/pictures';
import { settings } from '@/lib/store/settings';

type Context = { params: Promise<{ id: string; found: string }> };

export async function POST(request: Request, { params }: Context) {
  const { id, found } = await params;
  const member = await actorOf(request.headers);
  if (!member || !can(member, 'write', 'machine')) return new Response('You may not write on this chart.', { status: 403 });
  if (!sameOrigin(request.headers, settings().baseUrl)) return new Response('Send this from a page of the club.', { status: 403 });
  const back = (to: string) => new Response(null, { status: 303, headers: { location: `/machines/${encodeURIComponent(id)}${to}` } });
  const trouble = (code: string) => back(`/found/${encodeURIComponent(found)}?trouble=${code}`);

  const photo = await pictureFrom(request);
  if ('trouble' in photo) return trouble(photo.trouble);
  const hash = photo.picture?.hash ?? null;
  const kept = await getMachine(id);
  const changed = kept && withFoundPhoto(kept.machine, decodeURIComponent(found), hash);
  if (!changed) return back('#as-found');
  if (hash) await holdOnMachine(id, hash, member.id);
  const put = await putMachine(changed, kept.version, member.id);
  if (!put.ok) return trouble('changed');
  await recomputeLater('machine', id);
  return back('#as-found');
}
