/** What somebody does with a photo of a machine or a board design: adds it, pins on it, takes it off. */
import { notFound } from 'next/navigation';
import { takeOffPhotoAction } from '@/app/actions/chart-photos';
import { photoTrouble } from '@/app/photo-form';
import { indexChart } from '@/lib/core/chart';
import { headersOf, photoOf, pinnables, pinsOf } from '@/lib/core/chart/pinned';
import { getChartParts } from '@/lib/store/machines';
import { ActionForm } from '@/lib/ui/forms';
import { PinScreen } from '@/lib/ui/pinning/pin-screen';
import { Entry, LinkButton } from '@/lib/ui/shell';
import { requireRight } from '../../member';
import { Frame } from '../frame';
import { type ChartScreen, chartScreen } from './kinds';

type Of = Pick<ChartScreen, 'kind' | 'id'>;

export async function PinOn({ kind, id, picture }: Of & { picture: string }) {
  const screen = await chartScreen(kind, id);
  const { path, title, chart, version } = screen;
  const here = `${path}/photos/${picture}`;
  const member = await requireRight(`${here}/pin`, 'write', 'machine');
  const photo = photoOf(chart, picture) ?? notFound();
  const parts = kind === 'machine' ? await getChartParts(id) : null;
  const things = parts ? pinnables(indexChart(parts.machine, parts.design)) : chart.format === 'fettlebook-board/1' ? headersOf(chart) : [];
  const name = photo.caption || 'A photo';
  return (
    <Frame member={member} here="Machines" title={`Pin on ${name}`}>
      <Entry>
        <h1>Pin on {name}</h1>
        <p className="sub">
          <span>{title}</span>
          <span>version {version}</span>
        </p>
        <PinScreen
          address={`/api${path}/photos/${picture}/pins`}
          photo={photo}
          kept={{ version, caption: photo.caption ?? '', pins: pinsOf(chart, picture).map(({ photo: _, ...pin }) => pin) }}
          things={things}
          member={member.id}
          back={here}
        />
      </Entry>
    </Frame>
  );
}

export async function AddPhoto({ kind, id, trouble = '' }: Of & { trouble?: string }) {
  const { path, title } = await chartScreen(kind, id);
  const member = await requireRight(`${path}/photos/add`, 'write', 'machine');
  return (
    <Frame member={member} here="Machines" title="Add a photo">
      <Entry>
        <h1>Add a photo of {title}</h1>
        <p className="lead">
          {kind === 'machine'
            ? 'Of the playfield or of a board. Afterwards you pin on it where each switch, coil, lamp and connector is.'
            : 'Of a board. Afterwards you pin its connectors on it; every machine with this design shows it.'}
        </p>
        {photoTrouble(trouble) && (
          <p className="form-message" role="alert">
            {photoTrouble(trouble)}
          </p>
        )}
        <form className="form" method="post" encType="multipart/form-data" action={`${path}/photos/take`}>
          <p className="form-field">
            <label htmlFor="chart-photo">Take or choose a photo</label>
            <input id="chart-photo" name="photo" type="file" accept="image/*" aria-describedby="chart-photo-hint" />
            <span className="form-hint" id="chart-photo-hint">
              Straight from above, in even light. Where and with what it was taken is removed.
            </span>
          </p>
          <p className="form-field">
            <label htmlFor="chart-photo-caption">What it shows</label>
            <input id="chart-photo-caption" name="caption" maxLength={120} autoComplete="off" aria-describedby="chart-photo-caption-hint" />
            <span className="form-hint" id="chart-photo-caption-hint">
              Such as “Upper playfield” or “Under the apron”.
            </span>
          </p>
          <button type="submit" className="btn fill">
            Keep the photo
          </button>
        </form>
        <div className="actions">
          <LinkButton href={`${path}#photos`}>Leave it</LinkButton>
        </div>
      </Entry>
    </Frame>
  );
}

export async function TakeOff({ kind, id, picture }: Of & { picture: string }) {
  const { path, title, chart } = await chartScreen(kind, id);
  const here = `${path}/photos/${picture}`;
  const member = await requireRight(`${here}/off`, 'write', 'machine');
  const photo = photoOf(chart, picture) ?? notFound();
  const pins = pinsOf(chart, picture).length;
  return (
    <Frame member={member} here="Machines" title="Take a photo off">
      <Entry>
        <h1>Take {photo.caption ? `“${photo.caption}”` : 'this photo'} off?</h1>
        <p className="lead">
          {title} shows it no longer{pins > 0 && `, and its ${pins === 1 ? 'pin goes' : `${pins} pins go`} with it`}. An earlier version of
          the chart has both and can be brought back.
        </p>
        <ActionForm
          action={takeOffPhotoAction}
          submit="Take it off"
          fields={[
            { name: 'kind', label: '', type: 'hidden', value: kind },
            { name: 'id', label: '', type: 'hidden', value: id },
            { name: 'picture', label: '', type: 'hidden', value: picture },
          ]}
        />
        <div className="actions">
          <LinkButton href={here}>Leave it there</LinkButton>
        </div>
      </Entry>
    </Frame>
  );
}
