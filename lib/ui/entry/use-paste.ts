'use client';
/** What was pasted, read between frames: the table, what it was understood to be, and what it would change. */
import { useEffect, useState } from 'react';
import {
  type Answers,
  type Applied,
  applyTableInSteps,
  type Conflicts,
  type EntryChart,
  readTableInSteps,
  type Steps,
  type Table,
  type Understanding,
  understandInSteps,
} from '@/lib/core/chart/entry';
import { inSlices } from './slices';

export interface PasteRead {
  table: Table;
  read: Understanding;
  applied: Applied;
}

function* allSteps(
  source: string | Uint8Array,
  chart: EntryChart,
  answers: Answers,
  conflicts: Conflicts,
  known: Table | null,
): Steps<PasteRead> {
  const table = known ?? (yield* readTableInSteps(source));
  const read = yield* understandInSteps(table, chart, answers);
  const applied = yield* applyTableInSteps(chart, read, { conflicts });
  return { table, read, applied };
}

/** Null while there is nothing, or the first reading is not done; `busy` while what is shown is of before the last answer. */
export function usePaste(
  source: string | Uint8Array | null,
  chart: EntryChart,
  answers: Answers,
  conflicts: Conflicts,
): { shown: PasteRead | null; busy: boolean } {
  const [state, setState] = useState<{ source: unknown; chart: unknown; answers: unknown; conflicts: unknown; shown: PasteRead } | null>(
    null,
  );
  const current = state?.source === source && state?.chart === chart && state?.answers === answers && state?.conflicts === conflicts;
  const table = state?.source === source ? (state?.shown.table ?? null) : null;
  useEffect(() => {
    if (source === null || source.length === 0 || current) return;
    const stop = new AbortController();
    void inSlices(allSteps(source, chart, answers, conflicts, table), stop.signal).then((shown) => {
      if (shown) setState({ source, chart, answers, conflicts, shown });
    });
    return () => stop.abort();
  }, [source, chart, answers, conflicts, current, table]);
  const nothing = source === null || source.length === 0;
  return { shown: nothing || state?.source !== source ? null : state.shown, busy: !nothing && !current };
}
