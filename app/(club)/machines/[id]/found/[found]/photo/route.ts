/** Keeps or takes away the photo of a difference. */
import { photoFrom, readPhotoForm } from '@/app/photo-form';
import { can } from '@/lib/access/can';
import { actorOf } from '@/lib/access/session';
import { withFoundPhoto } from '@/lib/core/chart/found';
import { sameOrigin } from '@/lib/http/origin';
import { recomputeLater } from '@/lib/search/dependents';
import { getMachine, putMachine } from '@/lib/store/machines';
import { holdOnChart } from '@/lib/store/pictures';
import { settings } from '@/lib/store/settings';

type Context = { params: Promise<{ id: string; found: string }> };

export async function POST(request: Request, { params }: Context) {
  const { id, found } = await params;
  const member = await actorOf(request.headers);
  if (!member || !can(member, 'write', 'machine')) return new Response('You may not write on this chart.', { status: 403 });
  if (!sameOrigin(request.headers, settings().baseUrl)) return new Response('Send this from a page of the club.', { status: 403 });
  const back = (to: string) => new Response(null, { status: 303, headers: { location: `/machines/${encodeURIComponent(id)}${to}` } });
  const trouble = (code: string) => back(`/found/${encodeURIComponent(found)}?trouble=${code}`);

  const form = await readPhotoForm(request);
  if (!form) return trouble('large');
  const sent = form.get('remove') === 'yes' ? { picture: null } : await photoFrom(form);
  if ('trouble' in sent) return trouble(sent.trouble);
  const hash = sent.picture?.hash ?? null;
  const kept = await getMachine(id);
  const changed = kept && withFoundPhoto(kept.machine, decodeURIComponent(found), hash);
  if (!changed) return back('#as-found');
  if (hash) await holdOnChart('machine', id, hash, member.id);
  const put = await putMachine(changed, kept.version, member.id);
  if (!put.ok) return trouble('changed');
  await recomputeLater('machine', id);
  return back('#as-found');
}
