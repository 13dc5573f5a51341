/** Notes what this machine has otherwise than its manual: first where, then what. */
import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { noteFoundAction } from '@/app/actions/found';
import { indexChart } from '@/lib/core/chart';
import { placesOf } from '@/lib/core/chart/found-places';
import { lookup } from '@/lib/core/lookup';
import { getChartParts } from '@/lib/store/machines';
import { ActionForm } from '@/lib/ui/forms';
import { Entry, LinkButton } from '@/lib/ui/shell';
import { Result } from '@/lib/widgets/circuit-lookup/result';
import { requireRight } from '../../../../member';
import { Frame } from '../../../frame';

export const metadata: Metadata = { title: 'Note a difference' };
type Props = { params: Promise<{ id: string }>; searchParams: Promise<{ clue?: string; pick?: string }> };

export default async function FoundPage({ params, searchParams }: Props) {
  const { id } = await params;
  const { clue = '', pick } = await searchParams;
  const member = await requireRight(`/machines/${id}/found`, 'write', 'machine');
  const parts = await getChartParts(id);
  if (!parts) notFound();
  const chart = indexChart(parts.machine, parts.design);
  const text = String(clue).slice(0, 200);
  const named = /^(circuit|pin|line|load|lamp|header):(.+)$/.exec(text);
  const result = named || text === '' ? null : lookup(chart, text, pick);
  const thing =
    named?.[1] && named[2]
      ? { kind: named[1], id: named[2] }
      : result?.outcome === 'one'
        ? { kind: result.candidate.kind, id: result.candidate.id }
        : null;
  const places = thing ? placesOf(chart, thing.kind, thing.id) : [];
  const here = `/machines/${id}`;
  return (
    <Frame member={member} here="Machines" title="Note a difference">
      <Entry>
        <h1>What is otherwise here?</h1>
        <p className="lead">
          Where <a href={here}>{chart.title}</a> differs from its manual. The chart keeps both: lookups, plans and bench sheets show them
          side by side, and a search finds either.
        </p>
        {places.length === 0 ? (
          <>
            <form className="ask" action={`${here}/found`}>
              <label htmlFor="found-clue">Where? Number, name, colours or pin</label>
              <input id="found-clue" name="clue" defaultValue={named ? '' : text} maxLength={200} />
              <button type="submit" className="btn fill">
                Next
              </button>
            </form>
            {result && (
              <Result
                id="found"
                result={result}
                chart={chart}
                picked={false}
                link={(to) => `${here}/found?${new URLSearchParams({ clue: to })}`}
              />
            )}
          </>
        ) : (
          <ActionForm
            action={noteFoundAction}
            submit="Keep it"
            fields={[
              { name: 'machine', label: '', type: 'hidden', value: id },
              {
                name: 'place',
                label: 'Where, as the chart has it',
                type: 'select',
                options: places.map((p) => ({ value: p.key, label: p.label })),
              },
              {
                name: 'wire',
                label: 'Colour of the wire that is there',
                hint: 'Base and stripe, such as grey/orange; white for a plain wire. Empty when no wire differs.',
              },
              {
                name: 'here',
                label: 'What is there, in words',
                hint: 'Such as “the last run to the switch”. May be empty when a colour says it all.',
              },
              { name: 'since', label: 'Since when, if anybody knows', hint: 'Such as 2019, or “before it came to us”.' },
              { name: 'why', label: 'Why, and whether it may stay', type: 'area' },
              { name: 'on', label: 'Seen on', type: 'date', value: new Date().toISOString().slice(0, 10), required: true },
              { name: 'manual', label: 'What the manual says', hint: 'Empty: what the chart says of that place.' },
            ]}
          />
        )}
        <div className="actions">
          {thing && <LinkButton href={`${here}/found`}>Somewhere else</LinkButton>}
          <LinkButton href={here}>Leave it</LinkButton>
        </div>
      </Entry>
    </Frame>
  );
}
