/** Charts: board designs and machines. A change names the version it was made from, so that nobody overwrites what they did not see. */
import { eq, sql } from 'drizzle-orm';
import type { BoardDesign, Machine } from '@/lib/core/chart/schema';
import { type Kept, keepChart } from './charts';
import { database } from './database';
import { boardDesign, machine } from './schema';

export interface MachineRow {
  id: string;
  title: string; // "Lantern Regatta, no. 3"
  sort: string;
  design: string;
  version: number;
}

/** All machines by title. */
export async function listMachines(): Promise<MachineRow[]> {
  const { chart } = machine;
  const title = sql<string>`concat_ws(', ', ${chart} ->> 'name', ${chart} ->> 'unit')`;
  return database()
    .select({ id: machine.id, title, sort: sql<string>`${chart} ->> 'sort'`, design: machine.design, version: machine.version })
    .from(machine)
    .orderBy(title, machine.id);
}

/** What of each machine's chart tells whether it is another one: small, and no chart is read for it. By id. */
export async function chartVersions(): Promise<{ id: string; version: string }[]> {
  return database()
    .select({ id: machine.id, version: sql<string>`concat_ws('/', ${machine.version}, ${machine.design}, ${boardDesign.version})` })
    .from(machine)
    .innerJoin(boardDesign, eq(boardDesign.id, machine.design))
    .orderBy(machine.id);
}

export async function getMachine(id: string): Promise<{ machine: Machine; version: number } | null> {
  const [row] = await database().select({ machine: machine.chart, version: machine.version }).from(machine).where(eq(machine.id, id));
  return row ?? null;
}

/**
 * Keeps a machine. `expected` is the version it was changed from, null for a new one; what others saved since is joined, or named where it
 * cannot be. Throws when its board design is unknown.
 */
export const putMachine = (chart: Machine, expected: number | null, member: string | null): Promise<Kept<Machine>> =>
  keepChart('machine', chart, expected, member, (tx, row) =>
    tx
      .insert(machine)
      .values({ ...row, design: row.chart.design })
      .onConflictDoUpdate({ target: machine.id, set: { ...row, design: row.chart.design } }),
  );

/** All board designs by id. */
export async function listDesigns(): Promise<{ id: string; name: string; version: number }[]> {
  const name = sql<string>`${boardDesign.chart} ->> 'name'`;
  return database().select({ id: boardDesign.id, name, version: boardDesign.version }).from(boardDesign).orderBy(boardDesign.id);
}

export async function getDesign(id: string): Promise<{ design: BoardDesign; version: number } | null> {
  const [row] = await database()
    .select({ design: boardDesign.chart, version: boardDesign.version })
    .from(boardDesign)
    .where(eq(boardDesign.id, id));
  return row ?? null;
}

/** Keeps a board design; versions as for `putMachine`. */
export const putDesign = (chart: BoardDesign, expected: number | null, member: string | null): Promise<Kept<BoardDesign>> =>
  keepChart('design', chart, expected, member, (tx, row) =>
    tx.insert(boardDesign).values(row).onConflictDoUpdate({ target: boardDesign.id, set: row }),
  );

/** What a chart is made from: the machine and its board design; null when there is no such machine. */
export async function getChartParts(id: string): Promise<{ machine: Machine; design: BoardDesign } | null> {
  const [row] = await database()
    .select({ machine: machine.chart, design: boardDesign.chart })
    .from(machine)
    .innerJoin(boardDesign, eq(boardDesign.id, machine.design))
    .where(eq(machine.id, id));
  return row ?? null;
}
