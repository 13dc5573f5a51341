/** What the bench of charts runs in Node and in a browser, bundled: a paste understood and applied between frames, a chart checked, as a screen does it. */
import { advance, applyTableInSteps, type EntryChart, readTableInSteps, type Steps, understandInSteps } from '@/lib/core/chart/entry';
import type { BoardDesign, Machine } from '@/lib/core/chart/schema';
import { checkInSteps } from '@/lib/ui/entry/findings';
import { designSheet, machineSheet } from '@/lib/ui/entry/sheet';

export interface Sliced {
  total: number; // ms of work, without the rests
  longest: number; // ms of the longest stretch without a rest
  rows: number; // rows of the table
  placed: number;
  left: number; // cells that were not understood
}
const slice = 8; // ms; half a frame at 60 Hz

/** The check of a whole sheet, as the entry screen makes it after each change. */
export async function checkInSlices(machine: Machine | null, design: BoardDesign): Promise<Checks> {
  const sheet = machine ? machineSheet(machine, design) : designSheet(design);
  const { value, total, longest } = await driven(checkInSteps(sheet, []));
  return { total, longest, findings: value.findings.length };
}
export interface Checks {
  total: number;
  longest: number;
  findings: number;
}

export async function inSlices(text: string, chart: EntryChart): Promise<Sliced> {
  const table = await driven(readTableInSteps(text));
  const read = await driven(understandInSteps(table.value, chart));
  const applied = await driven(applyTableInSteps(chart, read.value));
  const all = [table, read, applied];
  return {
    total: all.reduce((sum, { total }) => sum + total, 0),
    longest: Math.max(...all.map(({ longest }) => longest)),
    rows: table.value.rows.length,
    placed: read.value.rows.length,
    left: read.value.not.length,
  };
}

async function driven<T>(steps: Steps<T>): Promise<{ value: T; total: number; longest: number }> {
  let [total, longest] = [0, 0];
  for (;;) {
    const began = performance.now();
    const at = advance(steps, () => performance.now() - began < slice);
    const took = performance.now() - began;
    total += took;
    longest = Math.max(longest, took);
    if (at.done) return { value: at.value, total, longest };
    await new Promise((rest) => setTimeout(rest));
  }
}
Object.assign(globalThis, { inSlices, checkInSlices });
