/** Takes the pass phrase of a link. A plain form: its page sends no referrer, so a server action could not tell where it came from. */
import * as z from 'zod';
import { keyCookie } from '@/app/write-up';
import { openReport, unlockReport } from '@/lib/access/reports';
import { ProblemError } from '@/lib/http/problem';
import { readBytes } from '@/lib/http/read-bytes';
import { settings } from '@/lib/store/settings';

type Context = { params: Promise<{ token: string }> };
const phrase = z.string().min(1).max(200);
const hours = 12;

export async function POST(request: Request, { params }: Context) {
  const { token } = await params;
  const base = `/report/${encodeURIComponent(token)}`;
  const back = (to: string, cookie?: string) =>
    new Response(null, { status: 303, headers: { location: base + to, ...(cookie && { 'set-cookie': cookie }) } });
  const given = phrase.safeParse(await phraseOf(request));
  if (!given.success) return back('?trouble=wrong');
  const unlocked = await unlockReport(token, given.data);
  const met = await openReport(token, null);
  if (met.state === 'none') return back('');
  if (!unlocked.ok) return back(unlocked.why === 'none' ? '' : `?trouble=${unlocked.why}`);
  const secure = settings().baseUrl.startsWith('https:') ? '; Secure' : '';
  return back('', `${keyCookie(met.link.id)}=${unlocked.key}; Path=${base}; Max-Age=${hours * 3600}; HttpOnly; SameSite=Lax${secure}`);
}

async function phraseOf(request: Request): Promise<string | null> {
  try {
    return new URLSearchParams(new TextDecoder().decode(await readBytes(request, 4000))).get('phrase');
  } catch (error) {
    if (error instanceof ProblemError) return null;
    throw error;
  }
}
