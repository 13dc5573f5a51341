import type { Metadata } from 'next';
import { headers } from 'next/headers';
import { notFound } from 'next/navigation';
import { openedHere, shownBy } from '@/app/write-up';
import { lockedBecause, mostMisses, noteOpened } from '@/lib/access/reports';
import { actorOf } from '@/lib/access/session';
import { PaperLinks } from '@/lib/ui/paper-links';
import { day } from '@/lib/ui/words';
import { WriteUpSheet } from '@/lib/ui/write-up/sheet';

export const metadata: Metadata = { title: 'Write-up', robots: { index: false, follow: false }, referrer: 'no-referrer' };

/** Why it did not open, by what the address says. */
const troubles: Record<string, string> = {
  wrong: 'That is not the pass phrase. Try it again; capitals and spaces do not count.',
};
type Props = { params: Promise<{ token: string }>; searchParams: Promise<{ trouble?: string }> };

/** What the customer sees: the write-up that was sent, and nothing else. */
export default async function Report({ params, searchParams }: Props) {
  const [{ token }, { trouble = '' }, asked] = await Promise.all([params, searchParams, headers()]);
  const met = await openedHere(asked, token);
  if (met.state === 'none') notFound();
  const base = `/report/${encodeURIComponent(token)}`;
  if (met.state === 'locked' && met.link.misses >= mostMisses) return <Spent />;
  if (met.state === 'locked') return <PassPhrase action={`${base}/open`} trouble={troubles[trouble]} />;
  const copy = (await shownBy(met.link)) ?? notFound();
  if (!(await actorOf(asked))) await noteOpened(met.link.id); // a member who looks how it came out is no customer
  return (
    <main className="sheet">
      <WriteUpSheet copy={copy} base={base} />
      <footer className="write-up-tools no-print">
        <PaperLinks label="As a PDF" href={`${base}/write-up.pdf`} />
        {met.link.expiresAt && <p className="soft">This link works until {day(met.link.expiresAt)}.</p>}
      </footer>
    </main>
  );
}

function Spent() {
  return (
    <main className="bare">
      <h1>This write-up is locked</h1>
      <p className="lead">{lockedBecause} Ask whoever sent you this link to unlock it.</p>
    </main>
  );
}

function PassPhrase({ action, trouble }: { action: string; trouble?: string }) {
  return (
    <main className="bare">
      <h1>A write-up for you</h1>
      <p className="lead">Whoever sent you this link has told you its pass phrase.</p>
      <form className="form" method="post" action={action}>
        {trouble && (
          <p className="form-message" role="alert">
            {trouble}
          </p>
        )}
        <p className="form-field">
          <label htmlFor="phrase">Pass phrase</label>
          <input id="phrase" name="phrase" type="password" autoComplete="off" required maxLength={200} />
        </p>
        <button type="submit" className="btn fill">
          Open it
        </button>
      </form>
    </main>
  );
}
