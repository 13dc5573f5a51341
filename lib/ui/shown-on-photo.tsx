/** Where something is on the photos of its machine: a piece of each photo around its pin, which leads to the whole. */

import { splitPin } from '@/lib/core/chart/names';
import { keyOf, type PhotoPin, type PinnedKind, type PinnedPhoto, photosOf, photoTitle, pinWords, shownOn } from '@/lib/core/chart/pinned';
import type { Chart } from '@/lib/core/chart/types';
import type { Candidate } from '@/lib/core/lookup/types';
import { pictureUrl } from '@/lib/files/limits';
import { tallness, unit } from './photo-marks';

const kinds: Partial<Record<Candidate['kind'], PinnedKind>> = {
  circuit: 'switch',
  lamp: 'lamp',
  load: 'load',
  header: 'header',
  pin: 'header',
};
const across = 420; // of the piece, in thousandths of the photo's width

/** What a lookup found, as it would be pinned; null for a line, which is in many places. */
export function pinnedAs({ kind, id }: Pick<Candidate, 'kind' | 'id'>): { kind: PinnedKind; of: string } | null {
  const as = kinds[kind];
  return as ? { kind: as, of: kind === 'pin' ? (splitPin(id)?.header ?? '') : id } : null;
}

export const photoAddress = (machine: string, picture: string, show?: { kind: string; of: string }) =>
  `/machines/${machine}/photos/${picture}${show ? `?${new URLSearchParams({ show: `${show.kind}:${show.of}` })}` : ''}`;

interface Props {
  chart: Chart;
  candidate: Pick<Candidate, 'kind' | 'id'>;
  removed?: readonly string[]; // pictures that were removed for good: they show nothing
}

export function ShownOnPhoto({ chart, candidate, removed = [] }: Props) {
  const thing = pinnedAs(candidate);
  const photos = photosOf(chart);
  const shown = thing ? shownOn(photos, thing.kind, thing.of).filter(({ photo }) => !removed.includes(photo.picture)) : [];
  if (!thing || shown.length === 0) return null;
  return (
    <section className="shown-on">
      <h3>Shown on {shown.length === 1 ? 'a photo' : `${shown.length} photos`}</h3>
      <ul>
        {shown.map(({ photo, pins }) => {
          const title = photoTitle(photo, photos.indexOf(photo) + 1);
          return (
            <li key={photo.picture}>
              <a href={photoAddress(chart.machine.id, photo.picture, thing)}>
                {pins.slice(0, 1).map((pin) => (
                  <Piece key={pin.id} photo={photo} pin={pin} />
                ))}
                <span>
                  {title}
                  {pins.length > 1 && `, in ${pins.length} places`}
                </span>
              </a>
            </li>
          );
        })}
      </ul>
    </section>
  );
}

/** As much of the photo around a pin as shows where it is. */
function Piece({ photo, pin }: { photo: PinnedPhoto; pin: PhotoPin }) {
  const tall = tallness(photo);
  const [width, height] = [Math.min(across, unit), Math.min(across * 0.75, tall)];
  const [x = 0, y = 0] = pin.at;
  const within = (at: number, whole: number, part: number) => Math.round(Math.min(Math.max(0, at - part / 2), whole - part));
  return (
    <svg
      className="photo-piece"
      viewBox={`${within(x * unit, unit, width)} ${within(y * tall, tall, height)} ${width} ${height}`}
      role="img"
      aria-label={`Where ${pinWords(pin)} is`}
      data-pin={keyOf(pin)}
    >
      <image href={pictureUrl(photo.picture, 1600)} width={unit} height={tall} preserveAspectRatio="none" />
      <circle className="photo-halo" cx={x * unit} cy={y * tall} r={26} />
      <circle className="photo-ink" cx={x * unit} cy={y * tall} r={26} />
    </svg>
  );
}
