/** The customer's write-up on paper: complaint, found, done, proof, parts, time, what to watch, cautions. */
import type { ReactNode } from 'react';
import type { WriteUp } from '@/lib/notebook/types';
import { PhotoFigure } from './photo-figure';

const time = (minutes: number) =>
  minutes < 60 ? `${minutes} minutes` : `${Math.floor(minutes / 60)} h${minutes % 60 ? ` ${minutes % 60} min` : ''}`;

/** `base` stands before the addresses of photos: the customer's link. */
export function WriteUpSheet({ writeUp, club, on, base }: { writeUp: WriteUp; club: string; on: string; base?: string }) {
  return (
    <article className="write-up">
      <header>
        <p className="write-up-club">{club}</p>
        <h1>{writeUp.title}</h1>
        <p className="sub">
          {writeUp.machine && <span>{writeUp.machine}</span>}
          <span>{on}</span>
        </p>
      </header>
      <Part title="What was wrong" lines={writeUp.complaint} />
      <Part title="What we found" lines={writeUp.found} />
      <Part title="What we did" lines={writeUp.done} list />
      <Part title="How we know it is mended" lines={writeUp.proof}>
        {writeUp.proof.length === 0 && <p className="soft">Not proved yet.</p>}
      </Part>
      {writeUp.photos.length > 0 && (
        <section>
          <h2>Photos</h2>
          {writeUp.photos.map((photo, k) => (
            <PhotoFigure key={`${photo.picture} ${k}`} photo={photo} alt={photo.caption || `Photo ${k + 1}`} base={base}>
              {[
                photo.caption || `Photo ${k + 1}`,
                ...photo.marks.flatMap((m) => (m.sort === 'number' && m.label ? [`${m.number} ${m.label}`] : [])),
              ].join('; ')}
            </PhotoFigure>
          ))}
        </section>
      )}
      <Part title="Parts" lines={writeUp.parts} list />
      {writeUp.minutes > 0 && <Part title="Time" lines={[time(writeUp.minutes)]} />}
      <Part title="What to watch" lines={writeUp.watch} />
      <Part title="Please note" lines={writeUp.cautions} list />
    </article>
  );
}

function Part({ title, lines, list, children }: { title: string; lines: string[]; list?: boolean; children?: ReactNode }) {
  if (lines.length === 0 && !children) return null;
  return (
    <section>
      <h2>{title}</h2>
      {list ? (
        <ul>
          {lines.map((l) => (
            <li key={l}>{l}</li>
          ))}
        </ul>
      ) : (
        lines.map((l) => <p key={l}>{l}</p>)
      )}
      {children}
    </section>
  );
}
