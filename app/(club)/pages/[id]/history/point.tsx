/** One point of a page's past: the page as it was, and what changed up to there. */
import { nameVersionAction } from '@/app/actions/history';
import { can } from '@/lib/access/can';
import { isUnchanged, pageDifferences, summaryOf, summaryWords } from '@/lib/notebook/differences';
import type { Member, PageRow, Stretch } from '@/lib/store/types';
import { ActionForm } from '@/lib/ui/forms';
import { HistoryMargin, historyBar } from '@/lib/ui/history-list';
import { HistorySheet, Legend } from '@/lib/ui/history-sheet';
import { HistorySlider } from '@/lib/ui/history-slider';
import { clocks, dayOf, pointOf, whoOf } from '@/lib/ui/history-words';
import { LinkButton, Notice } from '@/lib/ui/shell';
import { Frame } from '../../../frame';
import { evaluatedAs } from '../load';
import { contentAt } from './past';

interface Props {
  member: Member;
  page: PageRow;
  stretches: Stretch[]; // oldest first
  index: number;
  asked: string; // `against` as in the address
  against: number | null; // null: the one before
  whole: boolean;
  undo: number | null; // the point that was left when this one was brought back
}

export async function OnePoint({ member, page, stretches, index, asked, against, whole, undo }: Props) {
  const here = stretches[index]!;
  const other = against ?? stretches[index - 1]?.number ?? 0;
  const [from, to] = [Math.min(other, here.number), Math.max(other, here.number)];
  const [before, after] = await Promise.all([contentAt(page.id, from), contentAt(page.id, to)]);
  const differences = pageDifferences(before, after);
  const { evaluated } = await evaluatedAs(page, after);
  const writes = can(member, 'write', 'page');
  const newest = index === stretches.length - 1;
  const history = `/pages/${page.id}/history`;
  return (
    <Frame
      member={member}
      here="Bench"
      title={`the page as it was on ${pointOf(here)}`}
      margin={<HistoryMargin page={page.id} stretches={stretches.toReversed()} at={here.number} />}
      bar={historyBar(stretches)}
    >
      {undo !== null && (
        <Notice title="Brought back">
          <p>It is one more change, at the end of the history. What stood here before is kept: you can go back to that as well.</p>
          {writes && (
            <div className="actions">
              <LinkButton href={`${history}/bring-back?at=${undo}`}>Take that back</LinkButton>
              <LinkButton href={`/pages/${page.id}`}>To the page</LinkButton>
            </div>
          )}
        </Notice>
      )}
      <div className="actions no-print">
        <LinkButton href={`/pages/${page.id}`}>Back to the page</LinkButton>
        <LinkButton href={history}>All of the history</LinkButton>
      </div>
      <h1 className="history-title">{here.name ?? dayOf(here.at)}</h1>
      <p className="sub">
        <span>
          <b>{whoOf(here)}</b>
        </span>
        <span>
          {here.name && `${dayOf(here.at)}, `}
          <time dateTime={here.at}>{clocks(here)}</time>
        </span>
        <span>{page.title}</span>
      </p>
      <HistorySlider page={page.id} stretches={stretches} index={index} against={asked} />
      <div className="history-what">
        <h2>{whatChanged(stretches, here, from, to, against)}</h2>
        <p className="note">{summaryWords(summaryOf(differences))}</p>
        {isUnchanged(differences) ? <p>Nothing that can be read or seen differs.</p> : <Legend />}
        {!whole && differences.length > 0 && (
          <p className="no-print">
            <a href={`${history}?at=${here.number}${asked && `&against=${asked}`}&whole=1`}>Unfold the whole page</a>
          </p>
        )}
      </div>
      <HistorySheet differences={differences} widgets={new Map(evaluated.widgets.map((w) => [w.id, w]))} whole={whole} />
      {writes && (
        <div className="history-do no-print">
          {!newest && (
            <div>
              <h2>Bring this back</h2>
              <p>The page reads again as it did then, as a new change in your name. You see first what changes.</p>
              <div className="actions">
                <LinkButton href={`${history}/bring-back?at=${here.number}`}>Bring this back</LinkButton>
              </div>
            </div>
          )}
          <div>
            <h2>{here.name ? 'Its name' : 'Name this version'}</h2>
            <ActionForm
              action={nameVersionAction}
              submit={here.name ? 'Rename' : 'Give it the name'}
              quiet
              fields={[
                { name: 'page', label: '', type: 'hidden', value: page.id },
                { name: 'number', label: '', type: 'hidden', value: String(here.number) },
                { name: 'name', label: 'Name', value: here.name ?? '', hint: 'Such as: as handed back' },
              ]}
            />
          </div>
        </div>
      )}
    </Frame>
  );
}

/** What the differences are between, in words. */
function whatChanged(stretches: readonly Stretch[], here: Stretch, from: number, to: number, against: number | null): string {
  if (against === null) return from === 0 ? 'How it began' : 'What changed in this stretch';
  const newest = stretches.at(-1)?.number;
  const said = (number: number) => {
    const stretch = number === here.number ? here : stretches.find((s) => s.number >= number);
    return stretch ? pointOf(stretch) : 'its beginning';
  };
  return to === newest ? `What has changed since ${said(from)}` : `What changed from ${said(from)} to ${said(to)}`;
}
