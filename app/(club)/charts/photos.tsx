/** Photos of a machine or a board design: all of them on its screen, and one by itself. */
import { notFound } from 'next/navigation';
import { can } from '@/lib/access/can';
import { indexChart } from '@/lib/core/chart';
import { keyOf, type PhotoPin, type PinnedKind, type PinnedPhoto, photosOf, photosOfDesign, photoTitle } from '@/lib/core/chart/pinned';
import type { Chart } from '@/lib/core/chart/types';
import { circuitPages, marksOfPages } from '@/lib/search/recent';
import { getChartParts } from '@/lib/store/machines';
import { removedAmong } from '@/lib/store/picture-holders';
import type { Marks } from '@/lib/ui/drawings/matrix-cell';
import { PinList, PinnedFigure } from '@/lib/ui/pinned-photo';
import { Entry, Flip, LinkButton } from '@/lib/ui/shell';
import { day } from '@/lib/ui/words';
import { requireMember } from '../../member';
import { Frame } from '../frame';
import { type ChartScreen, chartScreen } from './kinds';

type Of = Pick<ChartScreen, 'kind' | 'id'>;

/** Where a pin leads: its circuit on the machine's screen. */
export const askOf =
  (machine: string) =>
  ({ kind, of }: Pick<PhotoPin, 'kind' | 'of'>): string => {
    const asks: Record<PinnedKind, Record<string, string>> = {
      switch: { circuit: of },
      load: { clue: `load ${of}`, pick: `load:${of}` },
      lamp: { clue: `lamp ${of}`, pick: `lamp:${of}` },
      header: { header: of },
    };
    return `/machines/${machine}?${new URLSearchParams(asks[kind])}#ask`;
  };

/** The marks of a machine's map. */
export const mapMarks = (chart: Chart, pages: Awaited<ReturnType<typeof circuitPages>>): Marks => ({
  ...marksOfPages(pages),
  found: chart.asFound.flatMap((d) => d.place.switch ?? []),
});

interface Shown {
  photos: readonly PinnedPhoto[];
  removed: ReadonlySet<string>; // pictures that were removed for good
  marks: Marks;
  href?: (pin: PhotoPin) => string;
}
async function shownOf(screen: ChartScreen): Promise<Shown> {
  const { kind, id, chart } = screen;
  if (chart.format === 'fettlebook-board/1') {
    const photos = photosOfDesign(chart);
    return { photos, marks: {}, removed: await removedOf(photos) };
  }
  const parts = (kind === 'machine' && (await getChartParts(id))) || notFound();
  const whole = indexChart(parts.machine, parts.design);
  const photos = photosOf(whole);
  return { photos, marks: mapMarks(whole, await circuitPages(id)), href: askOf(id), removed: await removedOf(photos) };
}
export const removedOf = (photos: readonly PinnedPhoto[]) => removedAmong(photos.map((photo) => photo.picture));

const holderPath = (photo: PinnedPhoto, path: string, design: string) => (photo.holder === 'design' ? `/designs/${design}` : path);

/** The photos on the screen of their chart. `lit` as `switch:46`. */
export function PhotoStrip({
  photos,
  marks,
  removed,
  href,
  path,
  design,
  lit,
  mayWrite,
}: Shown & { path: string; design: string; lit?: string; mayWrite: boolean }) {
  if (photos.length === 0)
    return (
      <p className="soft">
        No photos yet.{' '}
        {!mayWrite
          ? 'Whoever writes on this chart can add one and pin on it what is where.'
          : path.startsWith('/designs')
            ? 'Take one of a board, then pin its connectors on it.'
            : 'Take one of the playfield or of a board, then pin on it what is where.'}
      </p>
    );
  return photos.map((photo, k) => (
    <div key={`${photo.holder} ${photo.picture}`} className="photo-entry">
      <PinnedFigure photo={photo} place={k + 1} marks={marks} lit={lit} href={href} removed={removed.has(photo.picture)} />
      <PinList photo={photo} marks={marks} href={href} />
      <p className="actions no-print">
        {!removed.has(photo.picture) && <LinkButton href={`${path}/photos/${photo.picture}`}>Large</LinkButton>}
        {mayWrite && (
          <LinkButton href={`${holderPath(photo, path, design)}/photos/${photo.picture}/${removed.has(photo.picture) ? 'off' : 'pin'}`}>
            {removed.has(photo.picture) ? 'Take it off' : 'Pin on it'}
          </LinkButton>
        )}
      </p>
    </div>
  ));
}

/** One photo, whole or large. */
export async function Photo({ kind, id, picture, show }: Of & { picture: string; show?: string }) {
  const screen = await chartScreen(kind, id);
  const { path, title, chart } = screen;
  const member = await requireMember(`${path}/photos/${picture}`);
  const { photos, marks, removed, href } = await shownOf(screen);
  const photo = photos.find((each) => each.picture === picture) ?? notFound();
  const design = chart.format === 'fettlebook-machine/1' ? chart.design : chart.id;
  const own = `${holderPath(photo, path, design)}/photos/${picture}`;
  const figure = (
    <PinnedFigure photo={photo} place={photos.indexOf(photo) + 1} marks={marks} lit={show} href={href} removed={removed.has(picture)} />
  );
  const name = photoTitle(photo, photos.indexOf(photo) + 1);
  const lit = photo.pins.find((pin) => keyOf(pin) === show);
  return (
    <Frame member={member} here="Machines" title={name}>
      <Entry>
        <h1>{name}</h1>
        <p className="sub">
          <span>
            <a href={`${path}#photos`}>{title}</a>
          </span>
          {photo.holder === 'design' && kind === 'machine' && (
            <span>
              shared by every machine with <a href={`/designs/${design}`}>{design}</a>
            </span>
          )}
          <span>
            {photo.by}, {day(photo.on)}
          </span>
        </p>
        {lit && href && (
          <p>
            <a href={href(lit)}>What the chart says of {[lit.of, lit.name].filter(Boolean).join(' ')}</a>
          </p>
        )}
        <div className="fits">
          <div className="wide-form">{figure}</div>
          <div className="narrow-form">
            <Flip
              id="photo-size"
              legend="Size of the photo"
              sides={[
                { label: 'Whole', content: figure },
                { label: 'Large', content: <div className="bleed photo-large">{figure}</div> },
              ]}
            />
          </div>
        </div>
        <PinList photo={photo} marks={marks} href={href} />
        {can(member, 'write', 'machine') && (
          <p className="actions no-print">
            {!removed.has(picture) && (
              <LinkButton href={`${own}/pin`} fill>
                Pin on it
              </LinkButton>
            )}
            <LinkButton href={`${own}/off`}>Take it off</LinkButton>
            {!removed.has(picture) && (
              <LinkButton href={`/pictures/${picture}`} text>
                Remove the picture for good
              </LinkButton>
            )}
          </p>
        )}
      </Entry>
    </Frame>
  );
}
