/** Charts: board designs and machines. A change names the version it was made from, so that nobody overwrites what they did not see. */
import { and, eq, sql } from 'drizzle-orm';
import type { BoardDesign, Machine } from '@/lib/core/chart/schema';
import { database } from './database';
import { boardDesign, machine } from './schema';
import type { PutResult } from './types';

export interface MachineRow {
  id: string;
  title: string; // "Lantern Regatta, no. 3"
  sort: string;
  design: string;
  version: number;
}

const put = (rows: { version: number }[]): PutResult =>
  rows[0] ? { ok: true, version: rows[0].version } : { ok: false, reason: 'changed' };

/** All machines by title. */
export async function listMachines(): Promise<MachineRow[]> {
  const { chart } = machine;
  const title = sql<string>`concat_ws(', ', ${chart} ->> 'name', ${chart} ->> 'unit')`;
  return database()
    .select({ id: machine.id, title, sort: sql<string>`${chart} ->> 'sort'`, design: machine.design, version: machine.version })
    .from(machine)
    .orderBy(title, machine.id);
}

export async function getMachine(id: string): Promise<{ machine: Machine; version: number } | null> {
  const [row] = await database().select({ machine: machine.chart, version: machine.version }).from(machine).where(eq(machine.id, id));
  return row ?? null;
}

/**
 * Keeps a machine. `expected` is the version it was changed from, null for a new one; when the stored one is another, nothing is kept.
 * Throws when its board design is unknown.
 */
export async function putMachine(chart: Machine, expected: number | null, member: string | null): Promise<PutResult> {
  const row = { design: chart.design, chart, changedBy: member, changedAt: new Date() };
  if (expected === null) {
    const first = { id: chart.id, version: 1, ...row };
    return put(await database().insert(machine).values(first).onConflictDoNothing().returning({ version: machine.version }));
  }
  const same = and(eq(machine.id, chart.id), eq(machine.version, expected));
  const next = { version: expected + 1, ...row };
  return put(await database().update(machine).set(next).where(same).returning({ version: machine.version }));
}

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
export async function putDesign(chart: BoardDesign, expected: number | null, member: string | null): Promise<PutResult> {
  const row = { chart, changedBy: member, changedAt: new Date() };
  if (expected === null) {
    const first = { id: chart.id, version: 1, ...row };
    return put(await database().insert(boardDesign).values(first).onConflictDoNothing().returning({ version: boardDesign.version }));
  }
  const same = and(eq(boardDesign.id, chart.id), eq(boardDesign.version, expected));
  const next = { version: expected + 1, ...row };
  return put(await database().update(boardDesign).set(next).where(same).returning({ version: boardDesign.version }));
}

/** What a chart is made from: the machine and its board design; null when there is no such machine. */
export async function getChartParts(id: string): Promise<{ machine: Machine; design: BoardDesign } | null> {
  const [row] = await database()
    .select({ machine: machine.chart, design: boardDesign.chart })
    .from(machine)
    .innerJoin(boardDesign, eq(boardDesign.id, machine.design))
    .where(eq(machine.id, id));
  return row ?? null;
}
