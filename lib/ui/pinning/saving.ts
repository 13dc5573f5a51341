/** Sending pins to the server, and what is not sent yet, on this device. */
import * as z from 'zod/mini';
import type { Pins } from './pins';

/** What the server has: pins of a version of the chart. */
export interface KeptPins extends Pins {
  version: number;
}
export type Saved =
  | { ok: true; kept: KeptPins; merged: number }
  | { ok: false; why: 'offline' }
  | { ok: false; why: 'conflict'; theirs: KeptPins; words: string[] }
  | { ok: false; why: 'refused'; message: string };

const place = z.array(z.number());
const pin = z.object({
  id: z.string(),
  at: place,
  switch: z.optional(z.string()),
  lamp: z.optional(z.string()),
  load: z.optional(z.string()),
  header: z.optional(z.string()),
});
const pins = { pins: z.array(pin), caption: z.string() };
const answer = z.object({ ...pins, version: z.number(), merged: z.array(z.unknown()) });
const problem = z.object({ detail: z.optional(z.string()), errors: z.optional(z.array(z.object({ message: z.string() }))) });
const draft = z.object({ base: z.object({ ...pins, version: z.number() }), now: z.object(pins) });
export type Draft = z.infer<typeof draft>;

/** `fetch` is given, so that the way of saving can be tried without a server. */
export async function savePins(address: string, now: Pins, version: number, fetch: typeof globalThis.fetch): Promise<Saved> {
  const body = JSON.stringify({ pins: now.pins, caption: now.caption, version });
  const response = await fetch(address, { method: 'PUT', headers: { 'content-type': 'application/json' }, body }).catch(() => null);
  if (!response || (response.status >= 502 && response.status <= 504)) return { ok: false, why: 'offline' };
  const json: unknown = await response.json().catch(() => null);
  if (response.ok) {
    const { merged, ...kept } = answer.parse(json);
    return { ok: true, kept, merged: merged.length };
  }
  const said = problem.safeParse(json);
  if (response.status === 409) {
    const theirs = await readPins(address, fetch);
    if (!theirs) return { ok: false, why: 'offline' };
    return { ok: false, why: 'conflict', theirs, words: (said.data?.errors ?? []).map((e) => e.message) };
  }
  const signedOut = 'You are signed out. Sign in in another window, then save again; what you pinned is kept here.';
  return {
    ok: false,
    why: 'refused',
    message: response.status === 401 ? signedOut : (said.data?.detail ?? `The server answered ${response.status}.`),
  };
}

async function readPins(address: string, fetch: typeof globalThis.fetch): Promise<KeptPins | null> {
  const response = await fetch(address).catch(() => null);
  if (!response?.ok) return null;
  const { merged: _, ...kept } = answer.parse(await response.json());
  return kept;
}

type Store = Pick<Storage, 'getItem' | 'setItem' | 'removeItem'>;
export const draftKey = (address: string, member: string) => `fettlebook.pins ${address} ${member}`;

export function readDraft(store: Store, key: string): Draft | null {
  try {
    return draft.safeParse(JSON.parse(store.getItem(key) ?? 'null')).data ?? null;
  } catch {
    return null;
  }
}
/** Null takes it away. False when this device has no room for it. */
export function writeDraft(store: Store, key: string, kept: Draft | null): boolean {
  try {
    if (kept) store.setItem(key, JSON.stringify(kept));
    else store.removeItem(key);
    return true;
  } catch {
    return false;
  }
}
