/** What the bench of charts runs in Node and in a browser, bundled: a paste understood and applied between frames, as a screen does it. */
import { advance, applyTableInSteps, type EntryChart, readTableInSteps, type Steps, understandInSteps } from '@/lib/core/chart/entry';

export interface Sliced {
  total: number; // ms of work, without the rests
  longest: number; // ms of the longest stretch without a rest
  rows: number; // rows of the table
  placed: number;
  left: number; // cells that were not understood
}
const slice = 8; // ms; half a frame at 60 Hz

export async function inSlices(text: string, chart: EntryChart): Promise<Sliced> {
  let [total, longest] = [0, 0];
  const table = await driven(readTableInSteps(text));
  const read = await driven(understandInSteps(table, chart));
  await driven(applyTableInSteps(chart, read));
  return { total, longest, rows: table.rows.length, placed: read.rows.length, left: read.not.length };

  async function driven<T>(steps: Steps<T>): Promise<T> {
    for (;;) {
      const began = performance.now();
      const at = advance(steps, () => performance.now() - began < slice);
      const took = performance.now() - began;
      total += took;
      longest = Math.max(longest, took);
      if (at.done) return at.value;
      await new Promise((rest) => setTimeout(rest));
    }
  }
}
Object.assign(globalThis, { inSlices });
