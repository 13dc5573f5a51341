'use client';
/** What can be pinned: found by number or name, those without a pin first in sight. */
import { useState } from 'react';
import { keyOf, type Pinnable, type PinnedKind, pinWords } from '@/lib/core/chart/pinned';
import { Button, Field } from '../controls';

const kindWords: Record<PinnedKind, string> = { switch: 'Switches', load: 'Coils and other loads', lamp: 'Lamps', header: 'Connectors' };

interface Props {
  things: readonly Pinnable[];
  pinned: ReadonlySet<string>; // by key
  armed: Pinnable | null;
  arm(thing: Pinnable | null): void;
  /** Pins it in the middle of the photo, for who has no pointer. */
  put(thing: Pinnable): void;
}

/** Things that the words fit: all words stand in number or name, in any order. */
export function fitting(things: readonly Pinnable[], asked: string): Pinnable[] {
  const words = asked.toLowerCase().split(/\s+/).filter(Boolean);
  const exact = (thing: Pinnable) => (thing.of.toLowerCase() === words[0] ? 0 : 1);
  return things
    .filter((thing) => words.every((word) => pinWords(thing).toLowerCase().includes(word)))
    .toSorted((a, b) => (words.length === 1 ? exact(a) - exact(b) : 0));
}

export function PinChooser({ things, pinned, armed, arm, put }: Props) {
  const [asked, ask] = useState('');
  const shown = fitting(things, asked);
  const groups = Object.keys(kindWords).flatMap((kind) => {
    const own = shown.filter((thing) => thing.kind === kind);
    return own.length > 0 ? [{ kind: kind as PinnedKind, own }] : [];
  });
  return (
    <section className="pin-chooser" aria-label="What to pin">
      <Field id="pin-asked" label="What to pin, by number or name">
        {(control) => (
          <input
            {...control}
            type="search"
            value={asked}
            maxLength={80}
            autoComplete="off"
            onChange={(event) => ask(event.target.value)}
            onKeyDown={(event) => {
              if (event.key !== 'Enter' || !shown[0]) return;
              event.preventDefault();
              arm(shown[0]);
            }}
          />
        )}
      </Field>
      {armed && (
        <p className="pin-armed">
          <b>{pinWords(armed)}</b>
          <Button onClick={() => put(armed)}>Pin it in the middle</Button>
          <Button text onClick={() => arm(null)}>
            Not this one
          </Button>
        </p>
      )}
      <div className="pin-things">
        {groups.map(({ kind, own }) => (
          <section key={kind}>
            <h3>
              {kindWords[kind]}{' '}
              <span className="soft note">
                {own.filter((thing) => pinned.has(keyOf(thing))).length} of {own.length} pinned
              </span>
            </h3>
            <ul>
              {own.map((thing) => (
                <li key={keyOf(thing)}>
                  <button
                    type="button"
                    className="pin-thing"
                    aria-pressed={armed !== null && keyOf(armed) === keyOf(thing)}
                    onClick={() => arm(thing)}
                  >
                    <b className="mono">{thing.of}</b> <span>{thing.name}</span>
                    {pinned.has(keyOf(thing)) && <span className="soft note">pinned</span>}
                  </button>
                </li>
              ))}
            </ul>
          </section>
        ))}
        {shown.length === 0 && <p className="soft">Nothing of this chart fits “{asked}”.</p>}
      </div>
    </section>
  );
}
