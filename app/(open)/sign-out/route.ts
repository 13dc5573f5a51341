import { signOut } from '@/lib/access/accounts';
import { actorOf } from '@/lib/access/session';
import { sameOrigin } from '@/lib/http/origin';
import { live } from '@/lib/live/house';
import { settings } from '@/lib/store/settings';

/**
 * Ends the session and has the browser forget the club. Not a server action: those cannot send Clear-Site-Data (W3C Clear Site Data § 3).
 * What was written on the device goes only where the field `clear` says so: only the browser's scripts (lib/ui/enhance.js) can tell whether
 * all of it was sent, and whose it is.
 */
export async function POST(request: Request) {
  if (!sameOrigin(request.headers, settings().baseUrl)) return new Response('Sign out from a page of the club.', { status: 403 });
  const clear = (await request.formData().catch(() => null))?.has('clear') ?? false;
  const member = await actorOf(request.headers);
  const { cookies } = await signOut(request.headers);
  if (member) await live().recheck(member.id); // this session's open pages close; those of other sessions stay
  const headers = new Headers({
    location: '/sign-in',
    'cache-control': 'no-store',
    'clear-site-data': clear ? '"cache", "storage"' : '"cache"',
  });
  for (const cookie of cookies) headers.append('set-cookie', cookie);
  return new Response(null, { status: 303, headers });
}
