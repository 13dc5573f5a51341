/** What was sent: each numbered copy with its link, how long that works, and how often it was opened. */
import { unlockLinkAction, unshareAction } from '@/app/actions/write-up';
import { lockedBecause, type ReportLink, standingOf } from '@/lib/access/reports';
import { type Copy, isSame } from '@/lib/notebook/writeup/copy';
import type { SentCopy } from '@/lib/store/write-ups';
import { ActionForm } from '@/lib/ui/forms';
import { Widget } from '@/lib/ui/shell';
import { day } from '@/lib/ui/words';

interface SentProps {
  page: string;
  links: readonly ReportLink[];
  copies: readonly SentCopy[];
  now: Copy; // what sending would keep
  stale: boolean; // and facts changed under its wording
  baseUrl: string;
}

export function Sent({ page, links, copies, now, stale, baseUrl }: SentProps) {
  const older = links.filter(({ copy, revokedAt }) => copy === null && revokedAt === null);
  if (copies.length === 0 && older.length === 0) return null;
  const show = (link: ReportLink) => <LinkRow key={link.id} page={page} link={link} baseUrl={baseUrl} />;
  return (
    <Widget title="Sent" id="sent">
      {copies.map((copy) => (
        <section key={copy.id} className="sent-copy">
          <h3>
            <a href={`/pages/${page}/write-up/${copy.number}`}>Copy {copy.number}</a>
          </h3>
          <p className="soft">
            Sent by {copy.by}, {day(copy.at)}.{' '}
            {!isSame(copy.copy, now)
              ? 'The write-up above differs from it now.'
              : stale
                ? 'Facts under its wording changed.'
                : 'Nothing changed since.'}
          </p>
          {links.filter((link) => link.copy === copy.id).map(show)}
        </section>
      ))}
      {older.length > 0 && (
        <section className="sent-copy">
          <h3>Links without a copy</h3>
          <p className="soft">Made before copies were kept: they show the page’s own words as it stands today, and have no end.</p>
          {older.map(show)}
        </section>
      )}
    </Widget>
  );
}

function LinkRow({ page, link, baseUrl }: { page: string; link: ReportLink; baseUrl: string }) {
  const standing = standingOf(link, new Date());
  const seen =
    link.opened === 0
      ? 'Not opened yet.'
      : `Opened ${link.opened === 1 ? 'once' : `${link.opened} times`}, last on ${day(link.openedAt ?? '')}.`;
  const says = {
    works: link.expiresAt
      ? `Works until ${day(link.expiresAt)}${link.pass === null ? '' : ', with its pass phrase'}.`
      : 'Works without end.',
    over: `Its time was over on ${day(link.expiresAt ?? '')}.`,
    'taken back': `Taken back on ${day(link.revokedAt ?? '')}.`,
    locked: `Locked: ${lockedBecause} Ask the customer whether it was them before you unlock it.`,
  }[standing];
  const lives = standing === 'works' || standing === 'locked';
  const which = [
    { name: 'id', label: '', type: 'hidden' as const, value: link.id },
    { name: 'page', label: '', type: 'hidden' as const, value: page },
  ];
  return (
    <div className="shared-link">
      {lives && <input readOnly value={`${baseUrl}/report/${link.token}`} aria-label="Link for the customer" data-copy />}
      <p className="soft">
        {says} {seen}
      </p>
      {lives && (
        <div className="actions">
          {standing === 'locked' && <ActionForm action={unlockLinkAction} submit="Unlock it" quiet fields={which} />}
          <ActionForm action={unshareAction} submit="Take it back" quiet fields={which} />
        </div>
      )}
    </div>
  );
}
