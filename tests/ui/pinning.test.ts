/** Pinning: every step can be undone, and what two people pin at once is joined. */
import { describe, expect, test } from 'vitest';
import { fitting } from '@/lib/ui/pinning/pin-chooser';
import { type Act, joined, newPinning, type Pin, type Pins, pinningReducer, samePins } from '@/lib/ui/pinning/pins';
import { draftKey, readDraft, savePins, writeDraft } from '@/lib/ui/pinning/saving';

const pin = (id: string, x: number, y = x): Pin => ({ id, at: [x, y], switch: id });
const start: Pins = { pins: [pin('a', 0.1), pin('b', 0.2)], caption: 'Upper' };
const made = (...acts: Act[]) => acts.reduce(pinningReducer, newPinning(start));

describe('steps', () => {
  test('each pin, move and removal is one step of undo and of redo', () => {
    const acts: Act[] = [
      { do: 'put', pin: pin('c', 0.3) },
      { do: 'move', id: 'a', at: [0.5, 0.6], whole: true },
      { do: 'remove', id: 'b' },
    ];
    const states = acts.map((_, n) => made(...acts.slice(0, n + 1)).now);
    const back: Act[] = acts.map(() => ({ do: 'undo' }));
    expect(made(...acts).now.pins).toEqual([{ ...pin('a', 0.5, 0.6) }, pin('c', 0.3)]);
    expect(made(...acts, ...back).now).toEqual(start);
    expect(made(...acts, back[0]!).now).toEqual(states[1]);
    expect(made(...acts, ...back, { do: 'redo' }, { do: 'redo' }, { do: 'redo' }).now).toEqual(states[2]);
    expect(made(...acts, back[0]!, { do: 'put', pin: pin('d', 0.9) }).future).toEqual([]);
    expect(made({ do: 'undo' }).now).toEqual(start);
  });
  test('a run of key presses on one pin, or of letters of the caption, is one step; another pin begins another', () => {
    const nudge = (id: string, x: number): Act => ({ do: 'move', id, at: [x, x], whole: false });
    expect(made(nudge('a', 0.11), nudge('a', 0.12), { do: 'undo' }).now).toEqual(start);
    expect(made(nudge('a', 0.11), nudge('b', 0.12), { do: 'undo' }).now.pins[0]?.at).toEqual([0.11, 0.11]);
    expect(made({ do: 'caption', caption: 'U' }, { do: 'caption', caption: 'Up' }, { do: 'undo' }).now).toEqual(start);
    expect(made(nudge('a', 0.11), { do: 'undo' }, nudge('a', 0.12), { do: 'undo' }).now).toEqual(start);
  });
  test('removing what is gone is no step', () => expect(made({ do: 'remove', id: 'z' }).past).toEqual([]));
});

describe('joining', () => {
  const mine: Pins = { pins: [pin('a', 0.5), pin('m', 0.7)], caption: 'Upper' };
  const theirs: Pins = { pins: [pin('a', 0.1), pin('b', 0.2), pin('t', 0.9)], caption: 'Upper playfield' };
  test('takes what only one of two changed', () => {
    const { pins, clashes } = joined(start, mine, theirs, 'mine');
    expect(clashes).toEqual([]);
    expect(samePins(pins, { pins: [pin('a', 0.5), pin('m', 0.7), pin('t', 0.9)], caption: 'Upper playfield' })).toBe(true);
  });
  test('names what both changed, and lets the one that was chosen stand', () => {
    const moved: Pins = { ...theirs, pins: [pin('a', 0.8), pin('b', 0.3)] };
    expect(joined(start, mine, moved, 'mine')).toMatchObject({ clashes: ['a', 'b'], pins: { pins: [pin('a', 0.5), pin('m', 0.7)] } });
    expect(joined(start, mine, moved, 'theirs').pins.pins).toEqual([pin('a', 0.8), pin('b', 0.3), pin('m', 0.7)]);
  });
  test('what is the same on both sides is no clash', () => {
    const same: Pins = { ...start, pins: [pin('a', 0.4)] };
    expect(joined(start, same, same, 'mine')).toEqual({ pins: same, clashes: [] });
  });
});

describe('saving', () => {
  const answers =
    (...all: (Response | 'offline')[]): typeof globalThis.fetch =>
    async () => {
      const next = all.shift();
      if (!next || next === 'offline') throw new TypeError('network');
      return next;
    };
  const kept = { version: 4, caption: 'Upper', pins: [{ ...pin('a', 0.1), photo: 'left out' }], merged: [] };
  test('gives what the server kept', async () => {
    expect(await savePins('/x', start, 3, answers(Response.json(kept)))).toEqual({
      ok: true,
      merged: 0,
      kept: { version: 4, caption: 'Upper', pins: [pin('a', 0.1)] },
    });
  });
  test('tells no network from a refusal, and a clash with what is there now', async () => {
    expect(await savePins('/x', start, 3, answers('offline'))).toEqual({ ok: false, why: 'offline' });
    expect(await savePins('/x', start, 3, answers(new Response('', { status: 502 })))).toEqual({ ok: false, why: 'offline' });
    const refused = await savePins('/x', start, 3, answers(Response.json({ detail: 'No such photo.' }, { status: 404 })));
    expect(refused).toEqual({ ok: false, why: 'refused', message: 'No such photo.' });
    const clash = Response.json({ errors: [{ message: 'Pin a: you wrote …' }] }, { status: 409 });
    expect(await savePins('/x', start, 3, answers(clash, Response.json(kept)))).toMatchObject({
      why: 'conflict',
      words: ['Pin a: you wrote …'],
      theirs: { version: 4 },
    });
  });
  test('what is not saved waits on the device, each member’s and photo’s by itself; what cannot be read is passed over', () => {
    const held = new Map<string, string>();
    const store = {
      getItem: (key: string) => held.get(key) ?? null,
      setItem: (key: string, value: string) => void held.set(key, value),
      removeItem: (key: string) => void held.delete(key),
    };
    const key = draftKey('/x', 'ines');
    const draft = { base: { version: 3, caption: '', pins: [] }, now: { caption: 'U', pins: [pin('a', 0.1)] } };
    expect(writeDraft(store, key, draft)).toBe(true);
    expect(readDraft(store, key)).toEqual(draft);
    expect(readDraft(store, draftKey('/x', 'wen'))).toBeNull();
    held.set(key, '{"now":');
    expect(readDraft(store, key)).toBeNull();
    held.set(key, '{"now":1}');
    expect(readDraft(store, key)).toBeNull();
    writeDraft(store, key, null);
    expect(held.size).toBe(0);
    const full = {
      ...store,
      setItem: () => {
        throw new Error('full');
      },
    };
    expect(writeDraft(full, key, draft)).toBe(false);
  });
});

test('what to pin is found by number or by words in any order, the exact number first', () => {
  const things = [
    { kind: 'switch' as const, of: '146', name: 'Spinner lane' },
    { kind: 'switch' as const, of: '46', name: 'Spinner' },
    { kind: 'lamp' as const, of: '46', name: 'Spinner lit' },
    { kind: 'header' as const, of: 'A3J4', name: 'Switch rows' },
  ];
  expect(fitting(things, '46').map((t) => t.of)).toEqual(['46', '46', '146']);
  expect(fitting(things, 'lane spin').map((t) => t.of)).toEqual(['146']);
  expect(fitting(things, 'a3j4')).toHaveLength(1);
  expect(fitting(things, 'nothing')).toEqual([]);
  expect(fitting(things, '')).toHaveLength(4);
});
