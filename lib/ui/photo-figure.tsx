/** A photo for reading, with what is drawn on it, and two of them as before and after. */
import type { ReactNode } from 'react';
import { pictureUrl, sourceSet } from '@/lib/files/limits';
import type { ShownPhoto } from '@/lib/widgets/definition';
import { MarkShape, PhotoMarks, tallness, unit } from './photo-marks';

/** `base` stands before the picture's address: that of a customer's link. */
export interface PhotoProps {
  photo: ShownPhoto;
  alt: string;
  base?: string;
}

export const photoShape = ({ width, height }: Pick<ShownPhoto, 'width' | 'height'>) =>
  height > width ? 'photo-plate tall' : 'photo-plate';

export const removedWords = 'Picture removed';
/** A device that has a copy under the plain address asks the server under this one. */
export const removedUrl = (picture: string, size: number, base?: string) => `${pictureUrl(picture, size, base)}?removed`;

export function PhotoImage({ photo: { picture, width, height, removed }, alt, base }: PhotoProps) {
  return (
    // biome-ignore lint/performance/noImgElement: the sizes are made once, by our own server
    <img
      src={removed ? removedUrl(picture, 800, base) : pictureUrl(picture, 800, base)}
      srcSet={removed ? undefined : sourceSet(picture, { width, height }, base)}
      sizes="(max-width: 760px) 100vw, 720px"
      width={width}
      height={height}
      alt={removed ? removedWords : alt}
      loading="lazy"
      decoding="async"
    />
  );
}

export function PhotoFigure({ children, ...of }: PhotoProps & { children?: ReactNode }) {
  const { photo } = of;
  return (
    <figure className={photo.removed ? 'photo removed' : 'photo'}>
      <div className={photoShape(photo)}>
        <PhotoImage {...of} />
        {!photo.removed && <PhotoMarks {...photo} />}
      </div>
      {children && <figcaption>{children}</figcaption>}
    </figure>
  );
}

/**
 * The same place before and after under one slider. The two figures that stand beside it are for those without scripts, and for paper;
 * the slider is moved by enhance.js.
 */
export function PairSlide({ id, before, after, base }: { id: string; before: ShownPhoto; after: ShownPhoto; base?: string }) {
  const tall = Math.min(tallness(before), tallness(after));
  const all = { width: unit, height: tall, preserveAspectRatio: 'xMidYMid slice' };
  return (
    <div className="pair-slide" data-pair="">
      <svg
        className={tall > unit ? 'tall' : undefined}
        viewBox={`0 0 ${unit} ${tall}`}
        role="img"
        aria-label="Before on the left, after on the right of the line"
      >
        <clipPath id={`${id}-clip`}>
          <rect x={unit / 2} width={unit / 2} height={tall} />
        </clipPath>
        <image href={addressOf(before, base)} {...all} />
        <Over photo={before} tall={tall} />
        <g clipPath={`url(#${id}-clip)`}>
          <image href={addressOf(after, base)} {...all} />
          <Over photo={after} tall={tall} />
        </g>
        <path className="photo-halo" d={`M${unit / 2} 0V${tall}`} />
        <path className="photo-ink" d={`M${unit / 2} 0V${tall}`} />
      </svg>
      <label htmlFor={`${id}-slide`}>
        <span>Before</span>
        <span>After</span>
      </label>
      <input id={`${id}-slide`} type="range" min={0} max={100} defaultValue={50} aria-label="How much of before, in per cent" />
    </div>
  );
}

const addressOf = ({ picture, removed }: ShownPhoto, base?: string) =>
  removed ? removedUrl(picture, 1600, base) : pictureUrl(picture, 1600, base);

/** A photo's marks where the photo stands: of the taller of two as much is cut off above as below. */
function Over({ photo, tall }: { photo: ShownPhoto; tall: number }) {
  const own = tallness(photo);
  if (photo.removed) return null;
  return (
    <g transform={`translate(0 ${(tall - own) / 2})`}>
      {photo.marks.map((mark, k) => (
        <g key={k}>
          <MarkShape mark={mark} tall={own} />
        </g>
      ))}
    </g>
  );
}
