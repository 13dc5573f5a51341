/** A photo that a form brings for a machine or a board design. */
import { can } from '@/lib/access/can';
import { actorOf } from '@/lib/access/session';
import { chartPhoto } from '@/lib/core/chart/schema';
import { sameOrigin } from '@/lib/http/origin';
import { recomputeLater } from '@/lib/search/dependents';
import { addPhoto, getChart, mostPhotos } from '@/lib/store/chart-photos';
import type { ChartKind } from '@/lib/store/charts';
import { holdOnChart } from '@/lib/store/pictures';
import { settings } from '@/lib/store/settings';
import { photoFrom, readPhotoForm } from './photo-form';

/** Keeps it and goes on to pinning; with the trouble back to the form when there is one. */
export async function takeChartPhoto(request: Request, kind: ChartKind, id: string): Promise<Response> {
  const member = await actorOf(request.headers);
  if (!member || !can(member, 'write', 'machine')) return new Response('You may not write on this chart.', { status: 403 });
  if (!sameOrigin(request.headers, settings().baseUrl)) return new Response('Send this from a page of the club.', { status: 403 });
  const path = `/${kind}s/${encodeURIComponent(id)}`;
  const go = (to: string) => new Response(null, { status: 303, headers: { location: `${path}/photos/${to}` } });
  const trouble = (code: string) => go(`add?trouble=${code}`);

  const now = await getChart(kind, id);
  if (!now) return new Response('There is no such chart.', { status: 404 });
  const photos = now.chart.format === 'fettlebook-machine/1' ? now.chart.photos : now.chart.boardPhotos;
  if ((photos?.length ?? 0) >= mostPhotos) return trouble('full');
  const form = await readPhotoForm(request);
  if (!form) return trouble('large');
  const sent = await photoFrom(form);
  if ('trouble' in sent) return trouble(sent.trouble);
  const { hash, width, height } = sent.picture;
  await holdOnChart(kind, id, hash, member.id);
  const caption = String(form.get('caption') ?? '')
    .trim()
    .slice(0, 120);
  const own = { picture: hash, width, height, on: new Date().toISOString().slice(0, 10), by: member.name.slice(0, 80) };
  const kept = await addPhoto(kind, id, chartPhoto.parse({ ...own, ...(caption && { caption }) }), member.id);
  if (!kept.ok) return trouble('changed');
  await recomputeLater(kind, id);
  return go(`${hash}/pin`);
}
