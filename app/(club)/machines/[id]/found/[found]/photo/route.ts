/** Keeps or takes away the photo of a difference. A form of its own, without scripts: a server action would take no file of this size. */

import { can } from '@/lib/access/can';
import { actorOf } from '@/lib/access/session';
import { withFoundPhoto } from '@/lib/core/chart/found';
import { mostBytes } from '@/lib/files/limits';
import { keepPicture } from '@/lib/files/pictures';
import { refusalOf } from '@/lib/files/refusals';
import { sameOrigin } from '@/lib/http/origin';
import { ProblemError } from '@/lib/http/problem';
import { readBytes } from '@/lib/http/read-bytes';
import { recomputeLater } from '@/lib/search/dependents';
import { getMachine, putMachine } from '@/lib/store/machines';
import { holdOnMachine } from '@/lib/store/pictures';
import { settings } from '@/lib/store/settings';

type Context = { params: Promise<{ id: string; found: string }> };
const roomForFields = 10_000; // what a form adds around its file

export async function POST(request: Request, { params }: Context) {
  const { id, found } = await params;
  const member = await actorOf(request.headers);
  if (!member || !can(member, 'write', 'machine')) return new Response('You may not write on this chart.', { status: 403 });
  if (!sameOrigin(request.headers, settings().baseUrl)) return new Response('Send this from a page of the club.', { status: 403 });
  const back = (to: string) => new Response(null, { status: 303, headers: { location: `/machines/${encodeURIComponent(id)}${to}` } });
  const trouble = (code: string) => back(`/found/${encodeURIComponent(found)}?trouble=${code}`);

  const form = await readForm(request);
  if (!form) return trouble('large');
  const photo = await photoOf(form);
  if ('trouble' in photo) return trouble(photo.trouble);
  const kept = await getMachine(id);
  const changed = kept && withFoundPhoto(kept.machine, decodeURIComponent(found), photo.hash);
  if (!changed) return back('#as-found');
  if (photo.hash) await holdOnMachine(id, photo.hash, member.id);
  const put = await putMachine(changed, kept.version, member.id);
  if (!put.ok) return trouble('changed');
  await recomputeLater('machine', id);
  return back('#as-found');
}

async function readForm(request: Request): Promise<FormData | null> {
  try {
    const bytes = await readBytes(request, mostBytes + roomForFields);
    return await new Response(new Uint8Array(bytes), { headers: { 'content-type': request.headers.get('content-type') ?? '' } }).formData();
  } catch (error) {
    if (error instanceof ProblemError) return null;
    return new FormData(); // no form that can be read holds no photo
  }
}

/** The hash of the photo that the form brings; null when it takes the photo away. */
async function photoOf(form: FormData): Promise<{ hash: string | null } | { trouble: string }> {
  if (form.get('remove') === 'yes') return { hash: null };
  const file = form.get('photo');
  if (!(file instanceof File) || file.size === 0) return { trouble: 'none' };
  const bytes = new Uint8Array(await file.arrayBuffer());
  if (bytes.length > mostBytes) return { trouble: 'large' };
  if (refusalOf(bytes)) return { trouble: 'kind' };
  const kept = await keepPicture(bytes);
  return kept.ok ? { hash: kept.picture.hash } : { trouble: 'damaged' };
}
