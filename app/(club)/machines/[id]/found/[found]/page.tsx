/** Withdraws a note of what a machine had otherwise than its manual. It stays on record. */
import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { withdrawFoundAction } from '@/app/actions/found';
import { indexChart } from '@/lib/core/chart';
import { getChartParts } from '@/lib/store/machines';
import { placeWords } from '@/lib/ui/as-found';
import { WireChip } from '@/lib/ui/drawings';
import { ActionForm } from '@/lib/ui/forms';
import { Entry, LinkButton } from '@/lib/ui/shell';
import { seenWords } from '@/lib/ui/words';
import { requireRight } from '../../../../../member';
import { Frame } from '../../../../frame';

export const metadata: Metadata = { title: 'Withdraw a difference' };

export default async function WithdrawPage({ params }: { params: Promise<{ id: string; found: string }> }) {
  const { id, found } = await params;
  const member = await requireRight(`/machines/${id}/found/${found}`, 'write', 'machine');
  const parts = await getChartParts(id);
  if (!parts) notFound();
  const chart = indexChart(parts.machine, parts.design);
  const deviation = chart.asFound.find((d) => d.id === decodeURIComponent(found)) ?? notFound();
  return (
    <Frame member={member} here="Machines" title="Withdraw a difference">
      <Entry>
        <h1>Withdraw this?</h1>
        <div className="found-here">
          <h2>{placeWords(chart, deviation)}</h2>
          <dl className="both">
            <div>
              <dt>The manual says</dt>
              <dd>{deviation.manual}</dd>
            </div>
            <div>
              <dt>This machine has</dt>
              <dd>
                {deviation.here} {deviation.wire && <WireChip colour={deviation.wire} />}
              </dd>
            </div>
          </dl>
          <p className="note soft">{seenWords(deviation)}</p>
        </div>
        <p>
          From then on {chart.title} counts as its manual says at this place. The note stays on record, with who withdrew it and why, and an
          earlier version of the chart can be brought back.
        </p>
        <ActionForm
          action={withdrawFoundAction}
          submit="Withdraw it"
          fields={[
            { name: 'machine', label: '', type: 'hidden', value: id },
            { name: 'id', label: '', type: 'hidden', value: deviation.id },
            { name: 'why', label: 'Why it no longer holds', hint: 'Such as “put back to grey/tan, 3 May”.', required: true },
          ]}
        />
        <div className="actions">
          <LinkButton href={`/machines/${id}#as-found`}>Leave it as it is</LinkButton>
        </div>
      </Entry>
    </Frame>
  );
}
