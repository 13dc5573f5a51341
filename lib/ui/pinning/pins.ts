/** What is pinned on one photo while somebody pins: a state with what can be undone, and joining it with what others saved. Pure. */
import type { Pinned } from '@/lib/core/chart/schema';

export type Pin = Omit<Pinned, 'photo'>;
export interface Pins {
  pins: readonly Pin[];
  caption: string;
}
export interface Pinning {
  now: Pins;
  past: readonly Pins[];
  future: readonly Pins[];
  /** The last change, when the next of the same kind belongs to the same step of undo. */
  run: string;
}
export type Act =
  | { do: 'put'; pin: Pin }
  | { do: 'move'; id: string; at: Pin['at']; whole: boolean }
  | { do: 'remove'; id: string }
  | { do: 'caption'; caption: string }
  | { do: 'undo' }
  | { do: 'redo' }
  | { do: 'rebase'; pins: Pins }; // of the server: ends what can be undone

const mostUndo = 200;
export const newPinning = (now: Pins): Pinning => ({ now, past: [], future: [], run: '' });

export function pinningReducer(state: Pinning, act: Act): Pinning {
  const { now, past, future } = state;
  const step = (next: Pins, run = ''): Pinning =>
    run !== '' && run === state.run
      ? { ...state, now: next, future: [] }
      : { now: next, past: [...past, now].slice(-mostUndo), future: [], run };
  switch (act.do) {
    case 'put':
      return step({ ...now, pins: [...now.pins, act.pin] });
    case 'move':
      return step(
        { ...now, pins: now.pins.map((pin) => (pin.id === act.id ? { ...pin, at: act.at } : pin)) },
        act.whole ? '' : `move ${act.id}`,
      );
    case 'remove':
      return now.pins.some((pin) => pin.id === act.id) ? step({ ...now, pins: now.pins.filter((pin) => pin.id !== act.id) }) : state;
    case 'caption':
      return act.caption === now.caption ? state : step({ ...now, caption: act.caption }, 'caption');
    case 'undo': {
      const before = past.at(-1);
      return before ? { now: before, past: past.slice(0, -1), future: [now, ...future], run: '' } : state;
    }
    case 'redo': {
      const [after, ...rest] = future;
      return after ? { now: after, past: [...past, now], future: rest, run: '' } : state;
    }
    case 'rebase':
      return newPinning(act.pins);
  }
}

const samePin = (a: Pin | undefined, b: Pin | undefined) => JSON.stringify(a && ordered(a)) === JSON.stringify(b && ordered(b));
const ordered = ({ id, at, switch: sw, lamp, load, header }: Pin) => [id, at, sw, lamp, load, header];
export const samePins = (a: Pins, b: Pins): boolean =>
  a.caption === b.caption &&
  a.pins.length === b.pins.length &&
  a.pins.every((pin) =>
    samePin(
      pin,
      b.pins.find((p) => p.id === pin.id),
    ),
  );

/** Mine on theirs, both made of `base`: what only one changed is taken; where both changed the same pin, `holds` says whose stands. */
export function joined(base: Pins, mine: Pins, theirs: Pins, holds: 'mine' | 'theirs'): { pins: Pins; clashes: string[] } {
  const clashes: string[] = [];
  const of = (all: Pins, id: string) => all.pins.find((pin) => pin.id === id);
  const one = <T>(id: string, b: T, m: T, t: T, same: (x: T, y: T) => boolean): T => {
    if (same(m, t) || same(t, b)) return m;
    if (same(m, b)) return t;
    clashes.push(id);
    return holds === 'mine' ? m : t;
  };
  const ids = [...new Set([...theirs.pins, ...mine.pins].map((pin) => pin.id))];
  const pins = ids.flatMap((id) => one(id, of(base, id), of(mine, id), of(theirs, id), samePin) ?? []);
  return { pins: { pins, caption: one('caption', base.caption, mine.caption, theirs.caption, (x, y) => x === y) }, clashes };
}
