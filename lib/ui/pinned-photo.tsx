/** A photo of the playfield or of a board with what is pinned on it: pressing a pin asks for its circuit. The list beneath says the same. */
import type { ReactNode } from 'react';
import { keyOf, type PhotoPin, type PinnedPhoto, photoTitle, pinWords } from '@/lib/core/chart/pinned';
import { type Marks, marksInWords, marksOf } from './drawings/matrix-cell';
import { PhotoImage, photoShape } from './photo-figure';
import { tallness, unit } from './photo-marks';
import { placeLabels } from './pin-labels';
import { labelled, PinShape } from './pin-shape';

export interface PinnedFigureProps {
  photo: PinnedPhoto;
  /** Among the photos beside it, from 1. */
  place: number;
  marks?: Marks;
  /** What is shown, as `switch:46`. */
  lit?: string;
  /** Where a pin leads; without it pins are not links. */
  href?: (pin: PhotoPin) => string;
  /** The picture was removed for good: its pins stay in the list. */
  removed?: boolean;
}

/** Marks of the map are by number, of switches and loads; lamps have numbers of their own. */
export const pinMarks = (marks: Marks, { kind, of }: PhotoPin) =>
  marksOf(kind === 'switch' || kind === 'load' ? { ...marks, shown: [] } : {}, [of]);

export function PinnedFigure({ photo, place, marks = {}, lit, href, removed = false }: PinnedFigureProps) {
  const tall = tallness(photo);
  const title = photoTitle(photo, place);
  const count = photo.pins.length;
  const labels = placeLabels(
    photo.pins.map((pin) => labelled(pin, tall, pinMarks(marks, pin))),
    tall,
  );
  const drawn = photo.pins.flatMap((pin, k) => (labels[k] ? [{ pin, label: labels[k] }] : []));
  const litLast = drawn.toSorted((a, b) => Number(keyOf(a.pin) === lit) - Number(keyOf(b.pin) === lit)); // so that no other covers it
  const words = (pin: PhotoPin) => [pinWords(pin), ...marksInWords(pinMarks(marks, pin))].join(', ');
  return (
    <figure className={removed ? 'photo pinned removed' : 'photo pinned'}>
      <div className={photoShape(photo)}>
        <PhotoImage
          photo={{ ...photo, caption: title, marks: [], ...(removed && { removed: true as const }) }}
          alt={count === 0 ? title : `${title}, with ${count} ${count === 1 ? 'pin' : 'pins'}, listed below`}
        />
        {!removed && (
          <svg className="photo-marks live" viewBox={`0 0 ${unit} ${tall}`} role={href ? 'group' : 'img'} aria-label={`Pinned on ${title}`}>
            {litLast.map(({ pin, label }) => (
              <PinLink key={pin.id} href={href?.(pin)} words={words(pin)} lit={keyOf(pin) === lit}>
                <PinShape pin={pin} label={label} tall={tall} marks={pinMarks(marks, pin)} lit={keyOf(pin) === lit} />
              </PinLink>
            ))}
          </svg>
        )}
      </div>
      <figcaption>
        {title}
        {count === 0 && !removed && <span className="soft">. Nothing is pinned on it yet.</span>}
      </figcaption>
    </figure>
  );
}

function PinLink({ href, words, lit, children }: { href?: string; words: string; lit: boolean; children: ReactNode }) {
  if (!href) return children;
  return (
    <a href={href} className="pin-link" aria-label={words} aria-current={lit || undefined}>
      {children}
    </a>
  );
}

/** All pins of a photo in words, with the marks of the map. */
export function PinList({ photo, marks = {}, href }: Pick<PinnedFigureProps, 'photo' | 'marks' | 'href'>) {
  if (photo.pins.length === 0) return null;
  return (
    <details className="as-table">
      <summary>The {photo.pins.length === 1 ? 'pin' : `${photo.pins.length} pins`} as a list</summary>
      <ul className="ruled pin-list">
        {photo.pins.map((pin) => (
          <li key={pin.id}>
            <span>{href ? <a href={href(pin)}>{pinWords(pin)}</a> : pinWords(pin)}</span>
            <span className="soft">
              {[pin.name === '' && pin.kind !== 'header' ? 'not in the chart any more' : '', ...marksInWords(pinMarks(marks, pin))]
                .filter(Boolean)
                .join('; ')}
            </span>
          </li>
        ))}
      </ul>
    </details>
  );
}
