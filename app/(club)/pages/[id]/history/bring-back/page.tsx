import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { bringBackAction } from '@/app/actions/history';
import { live } from '@/lib/live/house';
import { contentOf } from '@/lib/notebook/content';
import { isUnchanged, pageDifferences, summaryOf, summaryWords } from '@/lib/notebook/differences';
import { ActionForm } from '@/lib/ui/forms';
import { HistorySheet, Legend } from '@/lib/ui/history-sheet';
import { pointOf } from '@/lib/ui/history-words';
import { Entry, LinkButton } from '@/lib/ui/shell';
import { requireRight } from '../../../../../member';
import { Frame } from '../../../../frame';
import { evaluatedAs } from '../../load';
import { contentAt, loadPast } from '../past';

export const metadata: Metadata = { title: 'Bring back' };

interface Props {
  params: Promise<{ id: string }>;
  searchParams: Promise<Record<string, string | string[] | undefined>>;
}

/** Before a page is brought back to what it was: what will change, and the button. */
export default async function BringBack({ params, searchParams }: Props) {
  const { id } = await params;
  const { at } = await searchParams;
  const member = await requireRight(`/pages/${id}/history`, 'write', 'page');
  const { page, stretches } = await loadPast(id);
  const number = typeof at === 'string' && /^\d{1,15}$/.test(at) ? Number(at) : notFound();
  const stretch = stretches.find((s) => s.number >= number) ?? notFound();
  const [now, then] = [await live().read(id, contentOf), await contentAt(id, stretch.number)];
  const differences = pageDifferences(now, then);
  const { evaluated } = await evaluatedAs(page, then);
  const same = isUnchanged(differences);
  return (
    <Frame member={member} here="Bench" title="Bring back">
      <Entry>
        <h1 className="history-title">Bring back {pointOf(stretch)}?</h1>
        {same ? (
          <p className="lead history-lead">The page reads exactly so now. There is nothing to bring back.</p>
        ) : (
          <>
            <p className="lead history-lead">
              {page.title} will read again as it did then. That is one new change in your name: everyone who has the page open sees it at
              once, and nothing of its history is lost. The point that you leave gets a name, so that you can go back to it.
            </p>
            <p>This will change: {summaryWords(summaryOf(differences))}.</p>
            <ActionForm
              action={bringBackAction}
              submit="Bring it back"
              fields={[
                { name: 'page', label: '', type: 'hidden', value: id },
                { name: 'number', label: '', type: 'hidden', value: String(stretch.number) },
              ]}
            />
          </>
        )}
        <div className="actions no-print">
          <LinkButton href={`/pages/${id}/history?at=${stretch.number}`}>{same ? 'To the history' : 'Leave it as it is'}</LinkButton>
        </div>
        {!same && (
          <>
            <div className="history-what">
              <h2>From the page now to the page then</h2>
              <Legend />
            </div>
            <HistorySheet differences={differences} widgets={new Map(evaluated.widgets.map((w) => [w.id, w]))} />
          </>
        )}
      </Entry>
    </Frame>
  );
}
