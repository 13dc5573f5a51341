'use client';
/** Pinning things of a chart on a photo: choose a thing, press its place. By finger, mouse or keyboard. */
import { useEffect, useMemo, useRef, useState } from 'react';
import { keyOf, type Pinnable, pinnedKinds, pinWords } from '@/lib/core/chart/pinned';
import type { ChartPhoto } from '@/lib/core/chart/schema';
import { newId } from '@/lib/notebook/ids';
import type { Spot } from '@/lib/widgets/photo/definition';
import { MarkLayer } from '@/lib/widgets/photo/mark-layer';
import { Button, Field, LinkButton } from '../controls';
import { PhotoImage, photoShape } from '../photo-figure';
import { tallness } from '../photo-marks';
import { placeLabels } from '../pin-labels';
import { labelled, PinShape } from '../pin-shape';
import { SaveSign } from '../shell';
import { PinChooser } from './pin-chooser';
import type { Pin } from './pins';
import type { KeptPins } from './saving';
import { usePinning } from './use-pinning';

export interface PinScreenProps {
  /** Where the pins are read and saved. */
  address: string;
  photo: ChartPhoto;
  kept: KeptPins;
  things: readonly Pinnable[];
  member: string;
  /** Where one goes when all is pinned. */
  back: string;
}
const signs = { saved: 'saved', kept: 'connecting', saving: 'saving', offline: 'offline', refused: 'refused' } as const;
const unmarked = { lit: false, open: 0, past: 0, unproved: 0, found: false, shown: false };
const middle: Spot = { x: 0.5, y: 0.5 };

export function PinScreen({ address, photo, kept, things, member, back }: PinScreenProps) {
  const { state, act, said, clash, save, settle } = usePinning(address, kept, member);
  const [armed, arm] = useState<Pinnable | null>(null); // what the next press of the photo pins
  const [chosen, choose] = useState<string | null>(null);
  const chooser = useRef<HTMLDivElement>(null);
  const { now } = state;
  const byKey = useMemo(() => new Map(things.map((thing) => [keyOf(thing), thing])), [things]);
  const thingOf = (pin: Pin): Pinnable => {
    const kind = pinnedKinds.find((k) => pin[k] !== undefined) ?? 'switch';
    const of = pin[kind] ?? '';
    return byKey.get(keyOf({ kind, of })) ?? { kind, of, name: '' };
  };
  const marks = now.pins.map((pin) => {
    const [x = 0, y = 0] = pin.at;
    return { id: pin.id, sort: 'pin' as const, from: null, to: { x, y }, thing: thingOf(pin) };
  });
  const tall = tallness(photo);
  const places = placeLabels(
    marks.map(({ thing, to }) => labelled({ ...thing, at: [to.x, to.y] }, tall, unmarked)),
    tall,
  );
  const labels = new Map(marks.map(({ id }, k) => [id, places[k]]));
  const pinnedKeys = new Set(marks.map((mark) => keyOf(mark.thing)));

  const put = (thing: Pinnable, { x, y }: Spot) => {
    const id = `${thing.of.replace(/[^A-Za-z0-9]/g, '-')}-${newId()}`; // its name reads well among the versions of a chart
    act({ do: 'put', pin: { id, at: [x, y], [thing.kind]: thing.of } });
    choose(id);
    // The next one without a pin, so that a whole row is pinned press by press.
    const rest = things.slice(things.findIndex((each) => keyOf(each) === keyOf(thing)) + 1);
    arm(rest.find((each) => each.kind === thing.kind && !pinnedKeys.has(keyOf(each))) ?? null);
  };
  const place = (spot: Spot) => {
    if (armed) put(armed, spot);
    else if (chosen && marks.some((mark) => mark.id === chosen)) act({ do: 'move', id: chosen, at: [spot.x, spot.y], whole: true });
  };
  const remove = (id: string) => {
    act({ do: 'remove', id });
    chooser.current?.querySelector('input')?.focus({ preventScroll: true });
  };

  useEffect(() => {
    const pressed = (event: KeyboardEvent) => {
      if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
      const pressedKey = event.key.toLowerCase();
      const inText = event.target instanceof HTMLInputElement;
      if (pressedKey === 's') void save();
      else if (pressedKey === 'z' && !inText) act({ do: event.shiftKey ? 'redo' : 'undo' });
      else if (pressedKey === 'y' && !inText) act({ do: 'redo' });
      else return;
      event.preventDefault();
    };
    addEventListener('keydown', pressed);
    return () => removeEventListener('keydown', pressed);
  }, [save, act]);

  const mine = marks.find((mark) => mark.id === chosen);
  return (
    <div className="enter pinning">
      <div className="enter-save">
        <Button fill onClick={() => void save()} disabled={said.state === 'saving'} title="Ctrl S">
          Save
        </Button>
        <Button onClick={() => act({ do: 'undo' })} disabled={state.past.length === 0} title="Ctrl Z">
          Undo
        </Button>
        <Button onClick={() => act({ do: 'redo' })} disabled={state.future.length === 0} title="Ctrl Shift Z">
          Redo
        </Button>
        <LinkButton href={back}>Done</LinkButton>
        <SaveSign state={signs[said.state]}>{said.words}</SaveSign>
      </div>
      {clash && (
        <section className="notice" role="alert">
          <h3>Somebody else saved meanwhile</h3>
          <p>Whatever only one of you changed is joined. Where both of you changed the same:</p>
          <ul className="problems">
            {clash.words.map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
          <p className="actions">
            <Button fill onClick={() => settle('mine')}>
              Mine stands
            </Button>
            <Button onClick={() => settle('theirs')}>Theirs stands</Button>
          </p>
        </section>
      )}
      <div className="pin-desk">
        <div ref={chooser}>
          <PinChooser things={things} pinned={pinnedKeys} armed={armed} arm={arm} put={(thing) => put(thing, middle)} />
        </div>
        <figure className="photo pinned">
          <div className={photoShape(photo)}>
            <PhotoImage photo={{ ...photo, caption: now.caption, marks: [] }} alt={now.caption || 'The photo'} />
            <MarkLayer
              photo={{ ...photo, marks }}
              label="Pins on the photo"
              chosen={chosen}
              choose={choose}
              remove={remove}
              move={(id, _end, { x, y }, whole) => act({ do: 'move', id, at: [x, y], whole })}
              place={place}
              words={({ thing }) => pinWords(thing)}
              shape={({ id, thing, to }) => {
                const label = labels.get(id);
                return label && <PinShape pin={{ ...thing, at: [to.x, to.y] }} label={label} tall={tall} marks={unmarked} />;
              }}
            />
          </div>
          <figcaption role="status">
            {armed
              ? `Press where ${pinWords(armed)} is.`
              : mine
                ? `${pinWords(mine.thing)}: press where it belongs, drag it, or move it with the arrow keys.`
                : 'Choose what to pin, then press its place.'}
          </figcaption>
          {mine && (
            <p className="actions">
              <Button onClick={() => remove(mine.id)}>Remove the pin of {pinWords(mine.thing)}</Button>
            </p>
          )}
        </figure>
        <Field id="pin-caption" label="What the photo shows">
          {(control) => (
            <input
              {...control}
              type="text"
              value={now.caption}
              maxLength={120}
              autoComplete="off"
              onChange={(event) => act({ do: 'caption', caption: event.target.value })}
            />
          )}
        </Field>
      </div>
    </div>
  );
}
