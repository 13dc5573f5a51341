import { signOut } from '@/lib/access/accounts';
import { actorOf } from '@/lib/access/session';
import { sameOrigin } from '@/lib/http/origin';
import { live } from '@/lib/live/house';
import { settings } from '@/lib/store/settings';

/**
 * Ends the session and has the browser forget what it keeps of the club. Not a server action: those cannot send Clear-Site-Data
 * (W3C Clear Site Data § 3). The field `keep` leaves the device alone: it is set where another member has changes there.
 */
export async function POST(request: Request) {
  if (!sameOrigin(request.headers, settings().baseUrl)) return new Response('Sign out from a page of the club.', { status: 403 });
  const keep = (await request.formData().catch(() => null))?.has('keep') ?? false;
  const member = await actorOf(request.headers);
  const { cookies } = await signOut(request.headers);
  if (member) await live().recheck(member.id); // this session's open pages close; those of other sessions stay
  const headers = new Headers({ location: '/sign-in', 'cache-control': 'no-store' });
  for (const cookie of cookies) headers.append('set-cookie', cookie);
  if (!keep) headers.set('clear-site-data', '"cache", "storage"');
  return new Response(null, { status: 303, headers });
}
