/** Photos of a chart and what is pinned on them, kept as versions of the chart like everything in it. */
import { photoOf, withoutPhoto, withPhoto, withPinsOn } from '@/lib/core/chart/pinned';
import type { BoardDesign, ChartPhoto, Machine, Pinned } from '@/lib/core/chart/schema';
import { type ChartKind, getVersion, type Kept } from './charts';
import { getDesign, getMachine, putDesign, putMachine } from './machines';

type Chart = Machine | BoardDesign;
export const mostPhotos = 60; // of one chart, as its schema says
export type KeptPhoto = Kept<Chart> | { ok: false; reason: 'gone' };

/** A chart of either kind as it is now; null when there is none. */
export async function getChart(kind: ChartKind, id: string): Promise<{ chart: Chart; version: number } | null> {
  const machine = kind === 'machine' ? await getMachine(id) : null;
  const design = kind === 'design' ? await getDesign(id) : null;
  return machine ? { chart: machine.machine, version: machine.version } : design && { chart: design.design, version: design.version };
}

const putChart = (chart: Chart, expected: number, member: string): Promise<Kept<Chart>> =>
  chart.format === 'fettlebook-machine/1' ? putMachine(chart, expected, member) : putDesign(chart, expected, member);

/** What others save at the same time is joined; a conflict only means that the chart was made unfit for it. */
async function changed(kind: ChartKind, id: string, member: string, change: (chart: Chart) => Chart | null): Promise<KeptPhoto> {
  const now = await getChart(kind, id);
  const next = now && change(now.chart);
  return next ? putChart(next, now.version, member) : { ok: false, reason: 'gone' };
}

export const addPhoto = (kind: ChartKind, id: string, photo: ChartPhoto, member: string): Promise<KeptPhoto> =>
  changed(kind, id, member, (chart) => withPhoto(chart, photo));

/** Takes a photo off the chart, with its pins. Earlier versions go on showing it. */
export const takeOffPhoto = (kind: ChartKind, id: string, picture: string, member: string): Promise<KeptPhoto> =>
  changed(kind, id, member, (chart) => (photoOf(chart, picture) ? withoutPhoto(chart, picture) : null));

/** Pins and caption of one photo as somebody made them of `version`; what others pinned since is joined to them. */
export async function savePins(
  kind: ChartKind,
  id: string,
  picture: string,
  made: { version: number; caption: string; pins: readonly Omit<Pinned, 'photo'>[] },
  member: string,
): Promise<KeptPhoto> {
  const base = await getVersion<Chart>(kind, id, made.version);
  if (!base || !photoOf(base.chart, picture)) return { ok: false, reason: 'gone' };
  return putChart(withPinsOn(base.chart, picture, made.caption, made.pins), made.version, member);
}
