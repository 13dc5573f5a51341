/** What the screens of a chart's past need of its kind: where it is, how it is read, what it is called. */
import { notFound } from 'next/navigation';
import type { BoardDesign, Machine } from '@/lib/core/chart/schema';
import type { ChartKind } from '@/lib/store/charts';
import { getDesign, getMachine, listDesigns, listMachines } from '@/lib/store/machines';

export interface ChartScreen {
  kind: ChartKind;
  id: string;
  path: string; // /machines/lantern-regatta-3
  title: string;
  version: number;
  chart: BoardDesign | Machine;
}

export const pathOf = (kind: ChartKind, id: string) => `/${kind === 'machine' ? 'machines' : 'designs'}/${encodeURIComponent(id)}`;
const titleOf = (chart: BoardDesign | Machine) =>
  chart.format === 'fettlebook-machine/1' ? [chart.name, chart.unit].filter(Boolean).join(', ') : `${chart.id}, ${chart.name}`;

async function find(kind: ChartKind, id: string): Promise<{ chart: BoardDesign | Machine; version: number } | null> {
  if (kind === 'machine') {
    const found = await getMachine(id);
    return found && { chart: found.machine, version: found.version };
  }
  const found = await getDesign(id);
  return found && { chart: found.design, version: found.version };
}

/** The chart as it is now; anyone who asks for one that is not there sees that there is no such page. */
export async function chartScreen(kind: ChartKind, id: string): Promise<ChartScreen> {
  const found = (await find(kind, id)) ?? notFound();
  return { kind, id, path: pathOf(kind, id), title: titleOf(found.chart), ...found };
}

/** All others of its kind, to compare it with. */
export async function othersOf({ kind, id }: Pick<ChartScreen, 'kind' | 'id'>): Promise<{ id: string; title: string }[]> {
  const all = kind === 'machine' ? await listMachines() : (await listDesigns()).map((d) => ({ id: d.id, title: `${d.id}, ${d.name}` }));
  return all.filter((one) => one.id !== id).map(({ id: other, title }) => ({ id: other, title }));
}
