'use client';
/** Photos where they are written on: taken, chosen, dropped or pasted, and each with its marks. */
import { type DragEvent, useEffect, useRef, useState } from 'react';
import { keepToSend, reopen, sendPictures } from '@/lib/live/outbox';
import { newId } from '@/lib/notebook/ids';
import { Empty, Widget } from '@/lib/ui/blocks';
import { Button } from '@/lib/ui/controls';
import { type Session, useSession } from '@/lib/ui/editor/session';
import type { WidgetActions } from '../definition';
import type { Model } from './definition';
import { PhotoEdit } from './photo-edit';
import { takeIn } from './take-in';

interface Props {
  id: string;
  model: Model;
  act: WidgetActions;
}
const kinds = 'image/jpeg,image/png,image/webp,image/avif,image/gif,image/*';

export function PhotoDesk({ id, model, act }: Props) {
  const session = useSession();
  const [troubles, setTroubles] = useState<string[]>([]);
  const [reading, setReading] = useState(0); // files that are being looked at
  const [over, setOver] = useState(false);
  const camera = useRef<HTMLInputElement>(null);
  const chooser = useRef<HTMLInputElement>(null);
  useSending(session);
  const known = useRef(model.photos);
  known.current = model.photos;

  const add = async (files: readonly File[]) => {
    if (!session || files.length === 0) return;
    const { page, title, member } = session.data;
    setTroubles([]);
    setReading((n) => n + files.length);
    for (const file of files) {
      const name = file.name || 'The picture';
      const taken = await takeIn(file);
      setReading((n) => n - 1);
      if (!taken.ok) setTroubles((all) => [...all, `${name}: ${taken.message}. ${taken.mend}`]);
      else if (known.current.some((photo) => photo.picture === taken.hash)) setTroubles((all) => [...all, `${name} is here already.`]);
      else {
        const { hash, width, height, blob } = taken;
        await keepToSend({ page, member: member.id, title, hash, blob });
        act.step({ [`photo.${newId()}`]: { picture: hash, width, height, by: member.name, at: new Date().toISOString() } });
        void sendPictures(member.id, page);
      }
    }
  };
  const chosen = (input: HTMLInputElement) => {
    void add([...(input.files ?? [])]);
    input.value = ''; // the same file may be chosen again
  };
  const carries = (event: DragEvent) => event.dataTransfer.types.includes('Files');

  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: dropping and pasting are further ways beside the buttons
    <div
      className={over ? 'photo-desk over' : 'photo-desk'}
      onDragOver={(event) => {
        if (!carries(event)) return;
        event.preventDefault();
        setOver(true);
      }}
      onDragLeave={() => setOver(false)}
      onDrop={(event) => {
        if (!carries(event)) return;
        event.preventDefault();
        setOver(false);
        void add([...event.dataTransfer.files]);
      }}
      onPaste={(event) => {
        const files = [...event.clipboardData.files];
        if (files.length === 0) return;
        event.preventDefault();
        void add(files);
      }}
    >
      <Widget
        title="Photos"
        tools={
          <>
            <Button onClick={() => camera.current?.click()}>Take a photo</Button>
            <Button onClick={() => chooser.current?.click()}>Choose photos</Button>
          </>
        }
      >
        <input
          ref={camera}
          type="file"
          accept="image/*"
          capture="environment"
          hidden
          aria-label="Take a photo"
          onChange={(e) => chosen(e.target)}
        />
        <input ref={chooser} type="file" accept={kinds} multiple hidden aria-label="Choose photos" onChange={(e) => chosen(e.target)} />
        {troubles.length > 0 && (
          <div className="notice" role="alert">
            <ul>
              {troubles.map((trouble) => (
                <li key={trouble}>{trouble}</li>
              ))}
            </ul>
            <Button text onClick={() => setTroubles([])}>
              Understood
            </Button>
          </div>
        )}
        {reading > 0 && (
          <p className="soft" role="status">
            Looking at {reading === 1 ? 'a picture' : `${reading} pictures`}…
          </p>
        )}
        {model.photos.length === 0 && reading === 0 && (
          <Empty title="No photos yet">
            Take one, choose several, or drop or paste them here. Without network they wait on this device.
          </Empty>
        )}
        {model.photos.map((photo, k) => (
          <PhotoEdit key={photo.id} id={id} photo={photo} place={k + 1} all={model.photos} pins={model.pins} act={act} />
        ))}
      </Widget>
    </div>
  );
}

const againMs = [5_000, 15_000, 30_000, 60_000];

/** Sends what waits on this page: at once, when the network is back, and now and then. */
function useSending(session: Session | null) {
  useEffect(() => {
    if (!session) return;
    const { page, member } = session.data;
    let tries = 0;
    let timer: ReturnType<typeof setTimeout> | undefined;
    let gone = false;
    const go = async () => {
      clearTimeout(timer);
      const left = await sendPictures(member.id, page);
      tries = left.length === 0 ? 0 : tries + 1;
      if (!gone) timer = setTimeout(go, againMs[Math.min(tries, againMs.length - 1)]);
    };
    void reopen(page, member.id).then(go);
    window.addEventListener('online', go);
    return () => {
      gone = true;
      clearTimeout(timer);
      window.removeEventListener('online', go);
    };
  }, [session]);
}
