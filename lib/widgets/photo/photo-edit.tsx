'use client';
/** One photo that is written on: how far it is sent, its marks and their labels, its caption, what it is paired with. */
import { useEffect, useRef, useState, useSyncExternalStore } from 'react';
import { dropPicture, onSending, type Sending, sendingOf, sendPictures } from '@/lib/live/outbox';
import { newId } from '@/lib/notebook/ids';
import { Button, Field, LinkButton } from '@/lib/ui/controls';
import { useSession } from '@/lib/ui/editor/session';
import { PairSlide, PhotoFigure, PhotoImage, photoShape, removedWords } from '@/lib/ui/photo-figure';
import { MarkShape } from '@/lib/ui/photo-marks';
import type { WidgetActions } from '../definition';
import { altOf, type Mark, markWords, type Photo, type Sort, type Spot } from './definition';
import { MarkLayer } from './mark-layer';
import { WhichWire } from './which-wire';

interface Props {
  id: string;
  photo: Photo;
  place: number; // on the page, from 1
  all: readonly Photo[];
  pins: readonly string[];
  act: WidgetActions;
}
const sortNames: Record<Sort, string> = { arrow: 'Arrow', number: 'Number', pin: 'Pin' };

/** Somewhere near the middle where no mark stands yet; two people who draw at once seldom get the same. */
function freeSpot(marks: readonly Mark[]): Spot {
  const all = [0.3, 0.4, 0.5, 0.6, 0.7].flatMap((x) => [0.35, 0.5, 0.65].map((y) => ({ x, y })));
  const free = all.filter(({ x, y }) => marks.every(({ to }) => Math.hypot(to.x - x, to.y - y) > 0.12));
  const from = free.length ? free : all;
  return from[Math.floor(Math.random() * from.length)] ?? { x: 0.5, y: 0.5 };
}

export const removalOf = (mark: string) => ({
  [`mark.${mark}`]: undefined,
  [`from.${mark}`]: undefined,
  [`to.${mark}`]: undefined,
  [`label.${mark}`]: undefined,
});

export function PhotoEdit({ id, photo, place, all, pins, act }: Props) {
  const [chosen, choose] = useState<string | null>(null);
  const tools = useRef<HTMLDivElement>(null);
  const sending = useSendingOf(photo.picture);
  const chart = useSession()?.context.chart;
  const key = `${id}-${photo.id}`;
  const draw = (sort: Sort) => {
    const mark = newId();
    const to = freeSpot(photo.marks);
    const n = 1 + Math.max(0, ...photo.marks.map((each) => each.number));
    act.step({
      [`mark.${mark}`]: { photo: photo.id, sort, n: sort === 'number' ? n : 1 },
      [`to.${mark}`]: to,
      ...(sort === 'arrow' && { [`from.${mark}`]: { x: to.x - 0.2, y: to.y - 0.2 } }),
    });
    choose(mark);
  };
  const write = (label: string, to: Spot) => {
    const mark = newId();
    act.step({ [`mark.${mark}`]: { photo: photo.id, sort: 'pin', n: 1 }, [`to.${mark}`]: to, [`label.${mark}`]: label });
    choose(mark);
  };
  const remove = (mark: string) => {
    act.step(removalOf(mark));
    tools.current?.querySelector('button')?.focus({ preventScroll: true }); // the focus stays in the widget, and so does undo
  };
  const takeOut = (
    <Button text onClick={() => act.step({ [`photo.${photo.id}`]: undefined })} aria-label={`Take out photo ${place}`}>
      Take out this photo
    </Button>
  );
  if (photo.removed)
    return (
      <section className="photo-entry" aria-label={`Photo ${place}`}>
        <PhotoFigure photo={photo} alt="">
          {photo.caption || removedWords}
        </PhotoFigure>
        {takeOut}
      </section>
    );
  return (
    <section className="photo-entry" aria-label={`Photo ${place}`}>
      <figure className="photo">
        <div className={photoShape(photo)}>
          <Shown photo={photo} place={place} />
          <MarkLayer
            photo={photo}
            label="Marks on the photo"
            chosen={chosen}
            choose={choose}
            remove={remove}
            move={(mark, end, spot, whole) => (whole ? act.step({ [`${end}.${mark}`]: spot }) : act.set(`${end}.${mark}`, spot))}
            place={(spot) => chosen && photo.marks.some((mark) => mark.id === chosen) && act.step({ [`to.${chosen}`]: spot })}
            words={markWords}
            shape={(mark, tall) => <MarkShape mark={mark} tall={tall} />}
          />
          <Progress photo={photo} />
        </div>
      </figure>
      <div className="photo-tools" ref={tools} role="toolbar" aria-label={`Draw on photo ${place}`}>
        {(Object.keys(sortNames) as Sort[]).map((sort) => (
          <Button
            key={sort}
            onClick={() => draw(sort)}
            aria-label={`Add ${sort === 'arrow' ? 'an arrow' : `a ${sortNames[sort].toLowerCase()}`}`}
          >
            {sortNames[sort]}
          </Button>
        ))}
      </div>
      {chosen && photo.marks.some((mark) => mark.id === chosen) && (
        <p className="note soft" role="status">
          Press where it belongs, drag it, or move it with the arrow keys.
        </p>
      )}
      {chart && <WhichWire id={key} photo={photo} place={place} chart={chart} url={sending?.url} write={write} />}
      <Labels id={key} marks={photo.marks} pins={pins} chosen={chosen} choose={choose} remove={remove} act={act} />
      <div className="fields">
        <Field id={`${key}-caption`} label={`Caption of photo ${place}`}>
          {(control) => (
            <input
              {...control}
              type="text"
              value={photo.caption}
              maxLength={300}
              autoComplete="off"
              onChange={(event) => act.set(`caption.${photo.id}`, event.target.value)}
            />
          )}
        </Field>
        {all.length > 1 && <After id={key} photo={photo} all={all} act={act} />}
      </div>
      {photo.after && <PairSlide id={key} before={photo} after={photo.after} />}
      <p className="actions">
        {takeOut}
        {(!sending || sending.state === 'sent') && (
          <LinkButton href={`/pictures/${photo.picture}`} text>
            Remove it for good
          </LinkButton>
        )}
      </p>
    </section>
  );
}

/** Of a photo that waits on this device; undefined once the server had it before this window opened. */
function useSendingOf(hash: string): Sending | undefined {
  const session = useSession();
  const read = () => (session ? sendingOf(session.data.page, session.data.member.id, hash) : undefined);
  return useSyncExternalStore(onSending, read, () => undefined);
}

const retryMs = [3_000, 6_000, 12_000, 30_000];

/** The device's own copy while there is one; a photo that somebody else has not sent yet is asked for again until it comes. */
function Shown({ photo, place }: { photo: Photo; place: number }) {
  const sending = useSendingOf(photo.picture);
  const [tries, setTries] = useState(0);
  const [missing, setMissing] = useState(false);
  useEffect(() => {
    if (!missing) return;
    const again = () => setTries((n) => n + 1);
    const timer = setTimeout(again, retryMs[Math.min(tries, retryMs.length - 1)]);
    return () => clearTimeout(timer);
  }, [missing, tries]);
  const alt = altOf(photo, place);
  // biome-ignore lint/performance/noImgElement: it stands on this device
  if (sending?.url) return <img src={sending.url} width={photo.width} height={photo.height} alt={alt} decoding="async" />;
  return (
    <>
      <div
        key={tries}
        className={missing ? 'photo-box missing' : 'photo-box'}
        onErrorCapture={() => setMissing(true)}
        onLoadCapture={() => setMissing(false)}
      >
        <PhotoImage photo={photo} alt={alt} />
      </div>
      {missing && (
        <p className="photo-missing" role="status">
          On its way from the device of {photo.by}. It shows here as soon as it has been sent.
        </p>
      )}
    </>
  );
}

function Progress({ photo }: { photo: Photo }) {
  const session = useSession();
  const sending = useSendingOf(photo.picture);
  if (!session || !sending || sending.state === 'sent') return null;
  const { page, member } = session.data;
  const percent = Math.round(sending.share * 100);
  if (sending.state === 'sending')
    return (
      <p className="photo-state" role="status">
        <progress max={100} value={percent} aria-label="Sent so far" /> {percent < 100 ? `Sending, ${percent} %` : 'Sent, being looked at'}
      </p>
    );
  if (sending.state === 'refused')
    return (
      <p className="photo-state" role="alert">
        {sending.message} <Button onClick={() => void dropPicture(page, member.id, photo.picture)}>Forget it on this device</Button>
      </p>
    );
  return (
    <p className="photo-state" role="status">
      <span>
        {sending.message ||
          (sending.kept ? 'Kept on this device until there is network.' : 'In this window only: leave it open until it is sent.')}
      </span>
      <Button onClick={() => void sendPictures(member.id, page)}>Send now</Button>
    </p>
  );
}

interface LabelsProps {
  id: string;
  marks: readonly Mark[];
  pins: readonly string[];
  chosen: string | null;
  choose(mark: string): void;
  remove(mark: string): void;
  act: WidgetActions;
}
function Labels({ id, marks, pins, chosen, choose, remove, act }: LabelsProps) {
  if (marks.length === 0) return null;
  const nameOf = ({ sort, number }: Mark) => (sort === 'number' ? `number ${number}` : sort);
  return (
    <>
      <datalist id={`${id}-pins`}>
        {pins.map((pin) => (
          <option key={pin} value={pin} />
        ))}
      </datalist>
      <ul className="mark-edit">
        {marks.map((mark) => (
          <li key={mark.id} className={mark.id === chosen ? 'chosen' : undefined}>
            <span className="mark-sign">{mark.sort === 'number' ? mark.number : sortNames[mark.sort]}</span>
            <input
              type="text"
              value={mark.label}
              maxLength={120}
              autoComplete="off"
              aria-label={`Label of ${nameOf(mark)}`}
              placeholder={mark.sort === 'pin' ? 'Pin, such as A3J4-7' : 'What it shows'}
              list={mark.sort === 'pin' ? `${id}-pins` : undefined}
              onFocus={() => choose(mark.id)}
              onChange={(event) => act.set(`label.${mark.id}`, event.target.value)}
            />
            <Button text onClick={() => remove(mark.id)} aria-label={`Remove ${nameOf(mark)} ${mark.label}`.trim()}>
              Remove
            </Button>
            {mark.wires.length > 0 && <span className="note soft mark-wire">{mark.wires.join(' and ')}</span>}
          </li>
        ))}
      </ul>
    </>
  );
}

function After({ id, photo, all, act }: { id: string; photo: Photo; all: readonly Photo[]; act: WidgetActions }) {
  return (
    <Field id={`${id}-after`} label="The same place afterwards">
      {(control) => (
        <select
          {...control}
          value={photo.after?.id ?? ''}
          onChange={(event) => act.step({ [`after.${photo.id}`]: event.target.value || undefined })}
        >
          <option value="">None</option>
          {all.map(
            (each, k) =>
              each.id !== photo.id && (
                <option key={each.id} value={each.id}>
                  Photo {k + 1}
                  {each.caption && `: ${each.caption}`}
                </option>
              ),
          )}
        </select>
      )}
    </Field>
  );
}
