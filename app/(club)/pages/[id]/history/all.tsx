/** The whole of a page's past, a list. */
import type { Member, PageRow, Stretch } from '@/lib/store/types';
import { HistoryList, HistoryMargin, historyBar } from '@/lib/ui/history-list';
import { Empty, LinkButton } from '@/lib/ui/shell';
import { Frame } from '../../../frame';
import { summariesOf } from './past';

const perScreen = 20;

interface Props {
  member: Member;
  page: PageRow;
  stretches: Stretch[]; // oldest first
  before: number; // shows those older than this entry
}

export async function AllOfThePast({ member, page, stretches, before }: Props) {
  const older = stretches.filter(({ number }) => number < before);
  const seen = older.slice(-perScreen);
  const first = older[older.length - seen.length - 1];
  const summaries = await summariesOf(page.id, seen, first?.number ?? 0);
  const newestFirst = seen.toReversed();
  return (
    <Frame
      member={member}
      here="Bench"
      title={`the history of ${page.title}`}
      margin={<HistoryMargin page={page.id} stretches={stretches.toReversed()} />}
      bar={historyBar(stretches)}
    >
      <div className="actions no-print">
        <LinkButton href={`/pages/${page.id}`}>Back to the page</LinkButton>
      </div>
      <h1 className="history-title">History of {page.title}</h1>
      <p className="lead history-lead">
        Who changed what, and when. Work by one member without a pause of ten minutes is one stretch. Choose one to see the page as it was
        then.
      </p>
      {stretches.length <= 1 && (
        <Empty title="It has one stretch of work so far">
          When somebody writes again, the next one stands here, with what it changed. <a href={`/pages/${page.id}/write`}>Write on it</a>
        </Empty>
      )}
      <HistoryList page={page.id} rows={newestFirst.map((stretch) => ({ stretch, summary: summaries.get(stretch.number) ?? '' }))} />
      <div className="actions no-print">
        {older.length < stretches.length && <LinkButton href={`/pages/${page.id}/history`}>To the newest</LinkButton>}
        {first && <LinkButton href={`/pages/${page.id}/history?before=${first.number + 1}`}>Older ones</LinkButton>}
      </div>
    </Frame>
  );
}
