import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { loadPage } from '@/app/(club)/pages/[id]/load';
import { clubName } from '@/app/club';
import { reportPage } from '@/lib/access/reports';
import { writeUp } from '@/lib/notebook/writeup';
import { day } from '@/lib/ui/words';
import { WriteUpSheet } from '@/lib/ui/write-up';

export const metadata: Metadata = { title: 'Write-up', robots: { index: false, follow: false }, referrer: 'no-referrer' };

/** What the customer sees: the write-up and nothing else. */
export default async function Report({ params }: { params: Promise<{ token: string }> }) {
  const { token } = await params;
  const id = await reportPage(token);
  if (!id) notFound();
  const [{ page, content, chart, evaluated }, club] = await Promise.all([loadPage(id), clubName()]);
  return (
    <main className="sheet">
      <WriteUpSheet
        writeUp={writeUp(evaluated, content, chart)}
        club={club}
        on={day(page.on)}
        base={`/report/${encodeURIComponent(token)}`}
      />
    </main>
  );
}
