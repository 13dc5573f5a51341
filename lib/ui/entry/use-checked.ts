'use client';
/** The check of a sheet while one types: it begins a moment after the last change and runs between frames. */
import { useEffect, useState } from 'react';
import { finish } from '@/lib/core/chart/entry';
import type { TerminalPart } from '@/lib/core/parts/schema';
import { type Checked, checkInSteps } from './findings';
import { inSlices } from './slices';
import type { Sheet } from './types';

const restMs = 120; // after the last change

export function useChecked(sheet: Sheet, terminals: readonly TerminalPart[]): Checked {
  const [checked, setChecked] = useState(() => finish(checkInSteps(sheet, terminals)));
  useEffect(() => {
    if (checked.sheet === sheet) return;
    const stop = new AbortController();
    const timer = setTimeout(async () => {
      const next = await inSlices(checkInSteps(sheet, terminals), stop.signal);
      if (next) setChecked(next);
    }, restMs);
    return () => {
      clearTimeout(timer);
      stop.abort();
    };
  }, [sheet, terminals, checked.sheet]);
  return checked;
}
