/** A copy that was sent, as the customer saw it; also after its link was taken back. */
import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { getPage } from '@/lib/store/pages';
import { copiesOf } from '@/lib/store/write-ups';
import { PaperLinks } from '@/lib/ui/paper-links';
import { Entry, LinkButton } from '@/lib/ui/shell';
import { day } from '@/lib/ui/words';
import { WriteUpSheet } from '@/lib/ui/write-up/sheet';
import { requireRight } from '../../../../../member';
import { Frame } from '../../../../frame';

export const metadata: Metadata = { title: 'A copy that was sent' };

export default async function SentCopyPage({ params }: { params: Promise<{ id: string; number: string }> }) {
  const { id, number } = await params;
  const member = await requireRight(`/pages/${id}/write-up/${number}`, 'read', 'report');
  const copy = (await getPage(id)) && (await copiesOf(id)).find((c) => String(c.number) === number);
  if (!copy) notFound();
  return (
    <Frame member={member} here="Bench" title={`Copy ${number}`}>
      <Entry>
        <p className="notice-line no-print">
          Copy {number}, as {copy.by} sent it on {day(copy.at)}.
        </p>
        <div className="actions no-print">
          <LinkButton href={`/pages/${id}/write-up`}>Back to the write-up</LinkButton>
        </div>
        <WriteUpSheet copy={copy.copy} />
        <div className="write-up-tools no-print">
          <PaperLinks label="On paper" href={`/pages/${id}/write-up/${number}/copy.pdf`} />
        </div>
      </Entry>
    </Frame>
  );
}
