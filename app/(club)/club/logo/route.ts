/** Keeps the club's logo, or takes it off the letterhead. */
import { photoFrom, readPhotoForm } from '@/app/photo-form';
import { can } from '@/lib/access/can';
import { actorOf } from '@/lib/access/session';
import { sameOrigin } from '@/lib/http/origin';
import { getLetterhead, setLetterhead } from '@/lib/store/letterhead';
import { holdOnLetterhead } from '@/lib/store/pictures';
import { settings } from '@/lib/store/settings';

export async function POST(request: Request) {
  if (!can(await actorOf(request.headers), 'manage', 'club')) return new Response('Only an owner changes the letterhead.', { status: 403 });
  if (!sameOrigin(request.headers, settings().baseUrl)) return new Response('Send this from a page of the club.', { status: 403 });
  const back = (to: string) => new Response(null, { status: 303, headers: { location: `/club${to}` } });
  const form = await readPhotoForm(request);
  if (!form) return back('?trouble=large#letterhead');
  const sent = form.get('remove') === 'yes' ? { picture: null } : await photoFrom(form);
  if ('trouble' in sent) return back(`?trouble=${sent.trouble}#letterhead`);
  const { picture } = sent;
  if (picture) await holdOnLetterhead(picture.hash);
  const logo = picture && { picture: picture.hash, width: picture.width, height: picture.height };
  await setLetterhead({ ...(await getLetterhead()), logo });
  return back('#letterhead');
}
