/** Words one line of the write-up, or adds one. */
import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { dropWordingAction, leaveOutAction, stillRightAction, wordLineAction } from '@/app/actions/write-up';
import { loadDraft } from '@/app/write-up';
import { money, typedMoney } from '@/lib/core/money';
import { addable, isPriced, nameOf } from '@/lib/notebook/writeup/types';
import { type DraftLine, groundOf, groundOfOwn, isFixed } from '@/lib/notebook/writeup/wording';
import { ActionForm, type FieldSpec } from '@/lib/ui/forms';
import { PhotoFigure } from '@/lib/ui/photo-figure';
import { Entry, LinkButton } from '@/lib/ui/shell';
import { day } from '@/lib/ui/words';
import { requireRight } from '../../../../../member';
import { Frame } from '../../../../frame';

export const metadata: Metadata = { title: 'Word a line' };
type Props = { params: Promise<{ id: string }>; searchParams: Promise<{ key?: string; add?: string }> };

const hidden = (values: Record<string, string>): FieldSpec[] =>
  Object.entries(values).map(([name, value]) => ({ name, label: '', type: 'hidden', value }));

export default async function LinePage({ params, searchParams }: Props) {
  const { id } = await params;
  const { key = '', add = '' } = await searchParams;
  const member = await requireRight(`/pages/${id}/write-up`, 'create', 'report');
  const { lines, derived, letterhead } = await loadDraft(id);
  const line = lines.find((l) => l.key === key);
  const section = line?.section ?? addable.find((s) => s === add);
  if (!section || (line && isFixed(section, line.key))) notFound();
  const { currency } = letterhead;
  const facts = derived.lines.find((l) => l.key === key)?.facts;
  const over = facts ?? (line?.standing === 'gone' ? '' : groundOfOwn(derived, section));
  const same = { page: id, key: line?.key ?? section, seen: line?.wording?.at ?? '' };
  const gone = line?.standing === 'gone';
  return (
    <Frame member={member} here="Bench" title="Word a line">
      <Entry>
        <h1>{line ? nameOf(section) : `Add to “${nameOf(section)}”`}</h1>
        {line?.photo && <PhotoFigure photo={line.photo} alt={line.derived || 'The photo'} />}
        {line?.derived && !line.stale && (
          <blockquote className="page-says">
            <p className="soft">The page says</p>
            <p>
              {line.derived}
              {line.derivedPrice !== null && ` (${money(line.derivedPrice, currency)})`}
            </p>
          </blockquote>
        )}
        {line?.stale && <Stale line={line} />}
        {line?.stale && !gone && (
          <ActionForm action={stillRightAction} submit="The words still hold" quiet fields={hidden({ ...same, over: line.now })} />
        )}
        {!gone && (
          <ActionForm
            action={wordLineAction}
            submit={line ? 'Keep these words' : 'Add the line'}
            fields={[
              ...hidden({
                ...same,
                derived: line?.derived ?? '',
                over,
                overPriced: groundOf(over, line?.derivedPrice ?? null, true, currency),
              }),
              {
                name: 'words',
                label: section === 'photos' ? 'What is said beneath it' : 'What the customer reads',
                type: 'area',
                value: line?.text || line?.derived || '',
                ...(line?.derived && section !== 'title' && { hint: 'Without a word it is left out.' }),
              },
              ...(isPriced(section)
                ? [
                    {
                      name: 'price',
                      label: `Price, ${currency}`,
                      value: line?.wording?.price == null ? '' : typedMoney(line.wording.price, currency),
                      hint:
                        line?.derivedPrice == null
                          ? 'Such as 4.20; may stay empty. Shown only where the write-up shows prices.'
                          : `Empty: ${money(line.derivedPrice, currency)}, as the parts list and the hourly rate have it.`,
                    },
                  ]
                : []),
            ]}
          />
        )}
        <div className="write-up-tools">
          {line && line.standing !== 'out' && line.derived !== null && section !== 'title' && (
            <ActionForm action={leaveOutAction} submit="Leave it out" quiet fields={hidden({ ...same, over })} />
          )}
          {line?.wording && (
            <ActionForm
              action={dropWordingAction}
              submit={line.derived === null ? 'Take it away' : 'Back to the page’s words'}
              quiet
              fields={hidden(same)}
            />
          )}
          <LinkButton href={`/pages/${id}/write-up#write-up-${section}`} text>
            Back without a change
          </LinkButton>
        </div>
      </Entry>
    </Frame>
  );
}

function Stale({ line: { standing, wording, now } }: { line: DraftLine }) {
  if (!wording) return null;
  return (
    <div className="notice-line stale-line" role="status">
      <p>
        <b>{standing === 'gone' ? 'The page no longer says this.' : 'The facts changed since this was worded.'}</b> {wording.by},{' '}
        {day(wording.at)}.
      </p>
      {standing === 'gone' && (
        <p>
          {wording.words ? `It was worded: “${wording.words}”.` : 'It was left out.'} Take it away; to keep it, add a line with these words
          first.
        </p>
      )}
      <dl className="both">
        <div>
          <dt>Then the page said</dt>
          <dd>{wording.over || 'nothing'}</dd>
        </div>
        <div>
          <dt>Now it says</dt>
          <dd>{now || 'nothing'}</dd>
        </div>
      </dl>
    </div>
  );
}
