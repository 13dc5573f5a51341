/** Withdraws a note of what a machine had otherwise than its manual. It stays on record. */
import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { withdrawFoundAction } from '@/app/actions/found';
import { photoTrouble } from '@/app/photo-form';
import { indexChart } from '@/lib/core/chart';
import { getChartParts } from '@/lib/store/machines';
import { removedAmong } from '@/lib/store/picture-holders';
import { placeWords } from '@/lib/ui/as-found';
import { WireChip } from '@/lib/ui/drawings';
import { ActionForm } from '@/lib/ui/forms';
import { FoundPhoto } from '@/lib/ui/found-photo';
import { Entry, LinkButton } from '@/lib/ui/shell';
import { seenWords } from '@/lib/ui/words';
import { requireRight } from '../../../../../member';
import { Frame } from '../../../../frame';

export const metadata: Metadata = { title: 'A difference' };

type Props = { params: Promise<{ id: string; found: string }>; searchParams: Promise<{ trouble?: string }> };

export default async function FoundOnePage({ params, searchParams }: Props) {
  const { id, found } = await params;
  const { trouble = '' } = await searchParams;
  const member = await requireRight(`/machines/${id}/found/${found}`, 'write', 'machine');
  const parts = await getChartParts(id);
  if (!parts) notFound();
  const chart = indexChart(parts.machine, parts.design);
  const deviation = chart.asFound.find((d) => d.id === decodeURIComponent(found)) ?? notFound();
  const removed = deviation.photo !== undefined && (await removedAmong([deviation.photo])).size > 0;
  return (
    <Frame member={member} here="Machines" title="A difference">
      <Entry>
        <h1>What is otherwise here</h1>
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
        <h2 className="section-head">Photo</h2>
        {photoTrouble(trouble) && (
          <p className="form-message" role="alert">
            {photoTrouble(trouble)}
          </p>
        )}
        <FoundPhoto found={deviation} large removed={removed} />
        {deviation.photo && !removed && (
          <p>
            <a href={`/pictures/${deviation.photo}`}>Remove this picture for good</a>
          </p>
        )}
        <form
          className="form quiet"
          method="post"
          encType="multipart/form-data"
          action={`/machines/${id}/found/${encodeURIComponent(deviation.id)}/photo`}
        >
          <p className="form-field">
            <label htmlFor="found-photo">{deviation.photo ? 'Another photo in its place' : 'Take or choose a photo'}</label>
            <input id="found-photo" name="photo" type="file" accept="image/*" aria-describedby="found-photo-hint" />
            <span className="form-hint" id="found-photo-hint">
              It is shown wherever this difference is. Where and with what it was taken is removed.
            </span>
          </p>
          <div className="actions">
            <button type="submit" className="btn">
              Keep the photo
            </button>
            {deviation.photo && (
              <button type="submit" className="btn text" name="remove" value="yes">
                Take the photo away
              </button>
            )}
          </div>
        </form>
        <h2 className="section-head">Withdraw it</h2>
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
