'use client';
/** The state of a pinning screen: what is pinned, what the server has, what is kept on this device, and saving. */
import { type Dispatch, useCallback, useEffect, useReducer, useRef, useState } from 'react';
import { type Act, joined, newPinning, type Pinning, pinningReducer, samePins } from './pins';
import { draftKey, type KeptPins, readDraft, savePins, writeDraft } from './saving';

export type Said = { state: 'saved' | 'kept' | 'saving' | 'offline' | 'refused'; words: string };
export interface PinClash {
  theirs: KeptPins;
  words: readonly string[];
}
export interface UsePinning {
  state: Pinning;
  act: Dispatch<Act>;
  said: Said;
  clash: PinClash | null;
  save(): Promise<void>;
  /** Ends a clash: whose places stand where both changed the same pin. */
  settle(holds: 'mine' | 'theirs'): void;
}
const waits: Said = { state: 'kept', words: 'Kept on this device, not saved yet' };
const nothing: Said = { state: 'saved', words: 'Nothing to save' };

export function usePinning(address: string, first: KeptPins, member: string): UsePinning {
  const [state, act] = useReducer(pinningReducer, first, newPinning);
  const [kept, setKept] = useState(first);
  const [said, setSaid] = useState<Said>(nothing);
  const [clash, setClash] = useState<PinClash | null>(null);
  const now = useRef(state.now);
  now.current = state.now;
  const ready = useRef(false);
  const busy = useRef(false);
  const key = draftKey(address, member);

  // What was pinned in an earlier visit and not saved comes back, on what others saved since.
  useEffect(() => {
    const draft = readDraft(localStorage, key);
    ready.current = true;
    if (draft) act({ do: 'rebase', pins: joined(draft.base, draft.now, first, 'mine').pins });
  }, [key, first]);

  useEffect(() => {
    if (!ready.current) return;
    if (samePins(state.now, kept)) {
      writeDraft(localStorage, key, null);
      setSaid((before) => (before.state === 'kept' ? nothing : before));
      return;
    }
    const held = writeDraft(localStorage, key, {
      base: { ...kept, pins: [...kept.pins] },
      now: { ...state.now, pins: [...state.now.pins] },
    });
    setSaid(held ? waits : { state: 'refused', words: 'This device has no room to keep what you pinned. Save it now.' });
  }, [state.now, kept, key]);

  const save = useCallback(async () => {
    if (busy.current) return;
    busy.current = true;
    setSaid({ state: 'saving', words: 'Saving' });
    const sent = now.current;
    const result = await savePins(address, sent, kept.version, (...args) => fetch(...args)).finally(() => {
      busy.current = false;
    });
    if (result.ok) {
      setClash(null);
      // What was pinned while it was being sent stays, on what was kept.
      if (result.merged > 0 || now.current !== sent) act({ do: 'rebase', pins: joined(sent, now.current, result.kept, 'mine').pins });
      setKept(result.kept);
      return setSaid({ state: 'saved', words: result.merged > 0 ? 'Saved, with what others changed meanwhile' : 'Saved' });
    }
    if (result.why === 'conflict') {
      setClash(result);
      return setSaid({ state: 'refused', words: 'Somebody else changed the same pins' });
    }
    if (result.why === 'refused') return setSaid({ state: 'refused', words: result.message });
    setSaid({ state: 'offline', words: 'No network. It is kept on this device; save again later.' });
  }, [address, kept]);

  const settle = (holds: 'mine' | 'theirs') => {
    if (!clash) return;
    act({ do: 'rebase', pins: joined(kept, now.current, clash.theirs, holds).pins });
    setKept(clash.theirs);
    setClash(null);
  };
  return { state, act, said, clash, save, settle };
}
