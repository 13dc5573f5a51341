'use client';
/** The state of an entry screen: the grid, what the server has, what is kept on this device, and saving. */
import { type Dispatch, useCallback, useEffect, useReducer, useRef, useState } from 'react';
import { draftKey, dropDraft, readDraft, writeDraft } from './draft';
import { type Act, type Grid, gridReducer, newGrid } from './grid';
import { count } from './paste-words';
import { readSheet } from './read-sheet';
import { type Charts, type Choice, rebased, settledConflicts, sheetOfCharts } from './rebase';
import { type Kept, type Saved, save, withDoc } from './saving';
import type { Sheet } from './types';

export type SaveSaid =
  | { state: 'saved'; words: string }
  | { state: 'kept'; words: string } // on this device only
  | { state: 'saving' | 'offline'; words: string }
  | { state: 'refused'; words: string; mends: readonly string[] }
  | { state: 'conflict'; words: string };
export type Conflicted = Extract<Saved, { why: 'conflict' }>;

export interface Entry {
  grid: Grid;
  act: Dispatch<Act>;
  kept: Kept;
  said: SaveSaid;
  conflict: Conflicted | null;
  /** What others had saved and came in. */
  news: readonly string[];
  save(): Promise<void>;
  settle(choices: readonly Choice[]): void;
}
export interface EntryStart {
  kept: Kept;
  sheet: Sheet; // of it
  table: string;
  member: string;
}
const draftMs = 250; // after the last change
const keptWords = 'Kept on this device, not saved yet';

export function useEntry({ kept: first, sheet, table, member }: EntryStart): Entry {
  const [grid, act] = useReducer(gridReducer, null, () => newGrid(sheet, table));
  const [kept, setKept] = useState(first);
  const [said, setSaid] = useState<SaveSaid>({ state: 'saved', words: 'Nothing to save' });
  const [conflict, setConflict] = useState<Conflicted | null>(null);
  const [news, setNews] = useState<readonly string[]>([]);
  /** The sheet that the server has. */
  const clean = useRef(grid.sheet);
  const now = useRef({ grid, kept });
  now.current = { grid, kept };
  const busy = useRef(false);
  /** Something was changed here since the screen opened. */
  const touched = useRef(false);
  const key = draftKey(sheet.kind, (first.machine ?? first.design).id, member);

  // A draft of an earlier visit comes back; what others saved since is joined to it.
  useEffect(() => {
    const draft = readDraft(localStorage, key);
    if (!draft) return;
    const older = draft.kept.versions.machine < first.versions.machine || draft.kept.versions.design < first.versions.design;
    if (!older) {
      setKept(draft.kept);
      act({ do: 'rebase', sheet: draft.sheet });
      setSaid({ state: 'kept', words: `${keptWords}; brought back from your last visit` });
      return;
    }
    const joined = rebased(draft.sheet, draft.kept, first);
    if (joined.ok) {
      act({ do: 'rebase', sheet: joined.sheet });
      setNews(told(joined.taken.map((change) => change.label)));
      setSaid({ state: 'kept', words: `${keptWords}; brought back from your last visit` });
      return;
    }
    const { doc, conflicts } = joined;
    const theirs = first[doc];
    act({ do: 'rebase', sheet: draft.sheet });
    setKept(draft.kept);
    if (theirs)
      setConflict({ ok: false, why: 'conflict', kept: draft.kept, doc, now: theirs, version: first.versions[doc], conflicts, words: [] });
    setSaid({ state: 'conflict', words: 'Others changed the same cells since your last visit' });
  }, [key, first]);

  // Kept on this device a moment after each change, and at once when the window goes.
  useEffect(() => {
    if (grid.sheet === clean.current) {
      // Undone back to what the server has: the draft must not bring the undone back.
      if (touched.current && readDraft(localStorage, key)) writeDraft(localStorage, key, grid.sheet, now.current.kept, Date.now());
      if (touched.current) setSaid((before) => (before.state === 'kept' ? { state: 'saved', words: 'Nothing to save' } : before));
      return;
    }
    touched.current = true;
    const keep = () => {
      const held = writeDraft(localStorage, key, now.current.grid.sheet, now.current.kept, Date.now());
      if (!held) setSaid({ state: 'refused', words: 'This device has no room to keep what you wrote. Save it now.', mends: [] });
    };
    setSaid((before) => (before.state === 'saved' ? { state: 'kept', words: keptWords } : before));
    const timer = setTimeout(keep, draftMs);
    addEventListener('pagehide', keep);
    return () => {
      clearTimeout(timer);
      removeEventListener('pagehide', keep);
    };
  }, [grid.sheet, key]);

  const saveNow = useCallback(async () => {
    if (busy.current) return;
    busy.current = true;
    act({ do: 'commit', and: 'stay' });
    setSaid({ state: 'saving', words: 'Saving' });
    // The cell that was being written is in the sheet after this turn.
    await new Promise((done) => setTimeout(done));
    const sent = now.current.grid.sheet;
    const read = readSheet(sent);
    const result = await save(read, now.current.kept, (...args) => fetch(...args)).finally(() => {
      busy.current = false;
    });
    setKept(result.kept);
    if (!result.ok) return setSaid(refusalOf(result, setConflict));
    setConflict(null);
    setNews(told(result.merged));
    const later = now.current.grid.sheet;
    const joined = result.merged.length > 0 ? rebased(later, read, result.kept) : null;
    const sheetNow = joined?.ok ? joined.sheet : later;
    const waiting = read.problems.length;
    if (later === sent) clean.current = sheetNow;
    if (later === sent && waiting === 0) dropDraft(localStorage, key);
    else writeDraft(localStorage, key, sheetNow, result.kept, Date.now());
    if (sheetNow !== later) act({ do: 'rebase', sheet: sheetNow });
    const words = savedWords(waiting, result.pages);
    setSaid(later === sent ? { state: 'saved', words } : { state: 'kept', words: `${words}; what you wrote since is kept on this device` });
  }, [key]);

  // What could not be sent goes when the network is back.
  useEffect(() => {
    if (said.state !== 'offline') return;
    const again = () => void saveNow();
    addEventListener('online', again);
    return () => removeEventListener('online', again);
  }, [said.state, saveNow]);

  const settle = useCallback(
    (choices: readonly Choice[]) => {
      if (!conflict) return;
      const { doc, now: theirs, version, conflicts } = conflict;
      const { kept: base, grid: g } = now.current;
      const read = readSheet(g.sheet);
      const mine = read[doc];
      const before = base[doc];
      if (!mine || !before) return;
      const chart = settledConflicts(before, mine, theirs, conflicts, choices);
      const charts = { machine: read.machine, design: read.design, [doc]: chart } as Charts;
      setKept(withDoc(base, doc, theirs, version));
      act({ do: 'rebase', sheet: sheetOfCharts(charts) });
      setConflict(null);
      setSaid({ state: 'kept', words: 'Both are joined as you chose. Look it over, then save' });
    },
    [conflict],
  );
  return { grid, act, kept, said, conflict, news, save: saveNow, settle };
}

function refusalOf(result: Exclude<Saved, { ok: true }>, conflicted: (c: Conflicted) => void): SaveSaid {
  if (result.why === 'offline') return { state: 'offline', words: 'No network: kept on this device, sent when it is back' };
  if (result.why === 'refused') return { state: 'refused', words: result.message, mends: result.mends };
  conflicted(result);
  return { state: 'conflict', words: 'Somebody changed the same cells. Nothing of yours is lost' };
}

/** The order of rows follows from rows that came in; it is no news of its own. */
const told = (labels: readonly string[]) => labels.filter((label) => !label.endsWith(': order'));

const savedWords = (waiting: number, pages: number) =>
  [
    waiting === 0 ? 'Saved' : `Saved, but for ${count(waiting, 'cell that is', 'cells that are')} not complete`,
    pages > 0 ? `${count(pages, 'page is', 'pages are')} being computed again` : '',
  ]
    .filter(Boolean)
    .join('; ');
