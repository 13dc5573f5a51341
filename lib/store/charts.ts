/** Saved states of charts. A chart is changed as a whole and kept as a version; changes from an older version are joined cell by cell. */
import { and, desc, eq, sql } from 'drizzle-orm';
import { lintDesign, lintMachine } from '@/lib/core/chart';
import { type Change, differences } from '@/lib/core/chart/differences';
import { type Conflict, merge } from '@/lib/core/chart/merge';
import { type Read, readDesign, readMachine } from '@/lib/core/chart/read';
import type { BoardDesign, Machine } from '@/lib/core/chart/schema';
import type { Finding } from '@/lib/core/chart/types';
import { type Database, database } from './database';
import { boardDesign, chartVersion, user } from './schema';

export type ChartKind = 'design' | 'machine';
type Chart = BoardDesign | Machine;
type Transaction = Parameters<Parameters<Database['transaction']>[0]>[0];
interface Row<T> {
  id: string;
  chart: T;
  version: number;
  changedBy: string | null;
  changedAt: Date;
}
/** `merged`: what others had saved meanwhile and the kept chart has of it. */
export type Kept<T> = { ok: true; version: number; chart: T; merged: Change[] } | { ok: false; reason: 'changed'; conflicts: Conflict[] };

/** Keeps a chart as its next version; one that is as before makes none. `write` puts the row of the present state. */
export function keepChart<T extends Chart>(
  kind: ChartKind,
  chart: T,
  expected: number | null,
  member: string | null,
  write: (tx: Transaction, row: Row<T>) => PromiseLike<unknown>,
): Promise<Kept<T>> {
  return database().transaction(async (tx) => {
    // One at a time for each chart, also the first of two that are new.
    await tx.execute(sql`select pg_advisory_xact_lock(hashtextextended(${`chart ${kind} ${chart.id}`}, 0))`);
    const now = await versionIn<T>(tx, kind, chart.id);
    let kept = chart;
    let merged: Change[] = [];
    if ((now?.version ?? null) !== expected) {
      const base = expected === null ? null : await versionIn<T>(tx, kind, chart.id, expected);
      if (!now || !base) return { ok: false, reason: 'changed', conflicts: [] };
      const joined = merge(base.chart, chart, now.chart);
      if (!joined.ok) return { ok: false, reason: 'changed', conflicts: joined.conflicts };
      const broken = await brokenBy(tx, kind, joined.chart, [chart, now.chart]);
      if (broken.length > 0) return { ok: false, reason: 'changed', conflicts: broken.map(conflictOf) };
      kept = joined.chart;
      merged = joined.taken;
    }
    if (now && differences(now.chart, kept).length === 0) return { ok: true, version: now.version, chart: now.chart, merged };
    const changedAt = await timeIn(tx);
    const row = { id: kept.id, chart: kept, version: (now?.version ?? 0) + 1, changedBy: member, changedAt };
    await write(tx, row);
    await tx.insert(chartVersion).values({ kind, ...row });
    return { ok: true, version: row.version, chart: kept, merged };
  });
}

/** The database's clock, as for the index: what was computed before this moment is older than the chart. */
async function timeIn(tx: Transaction): Promise<Date> {
  const { rows } = await tx.execute<{ ms: number }>(sql`select (extract(epoch from clock_timestamp()) * 1000)::float8 as ms`);
  return new Date(rows[0]?.ms ?? Date.now());
}

async function versionIn<T>(tx: Transaction, kind: ChartKind, id: string, version?: number): Promise<{ version: number; chart: T } | null> {
  const [row] = await tx
    .select({ version: chartVersion.version, chart: chartVersion.chart })
    .from(chartVersion)
    .where(and(eq(chartVersion.kind, kind), eq(chartVersion.id, id), version === undefined ? undefined : eq(chartVersion.version, version)))
    .orderBy(desc(chartVersion.version))
    .limit(1);
  return row ? { version: row.version, chart: row.chart as T } : null;
}

/** Errors of the joined chart that neither side had: two changes that are each right can break a rule together. */
async function brokenBy(tx: Transaction, kind: ChartKind, joined: Chart, sides: Chart[]): Promise<Finding[]> {
  const read: Read<Chart> = kind === 'machine' ? readMachine(joined) : readDesign(joined);
  if (!read.ok) return read.findings;
  const errors = async (chart: Chart) => (await lint(tx, chart)).filter((f) => f.level === 'error');
  const known = new Set((await Promise.all(sides.map(errors))).flat().map((f) => `${f.rule} ${f.message}`));
  return (await errors(joined)).filter((f) => !known.has(`${f.rule} ${f.message}`));
}

async function lint(tx: Transaction, chart: Chart): Promise<Finding[]> {
  if (chart.format === 'fettlebook-board/1') return lintDesign(chart);
  const [design] = await tx.select({ chart: boardDesign.chart }).from(boardDesign).where(eq(boardDesign.id, chart.design));
  return design ? lintMachine(chart, design.chart) : [];
}

const conflictOf = ({ path, message, mend }: Finding): Conflict => ({
  path: [path],
  label: `Both changes together: ${message} ${mend}`,
  base: undefined,
  mine: undefined,
  theirs: undefined,
});

/** One sentence for each conflict, with the way out. */
export const conflictWords = ({ label, base, mine, theirs }: Conflict): { message: string; mend: string } => {
  const said = (value: unknown) =>
    value === undefined ? 'nothing' : typeof value === 'object' ? JSON.stringify(value) : `“${String(value)}”`;
  if (mine === undefined && theirs === undefined)
    return { message: label, mend: 'Read the chart again and make your change on that version.' };
  return {
    message: `${label}: you wrote ${said(mine)}, somebody else ${said(theirs)}; before it was ${said(base)}.`,
    mend: 'Read the chart again, keep the right one, and save.',
  };
};

export interface ChartVersion {
  version: number;
  member: { id: string; name: string } | null;
  at: string;
}

/** All saved states of a chart, the newest first. */
export async function listVersions(kind: ChartKind, id: string): Promise<ChartVersion[]> {
  const rows = await database()
    .select({ version: chartVersion.version, at: chartVersion.changedAt, member: user.id, name: user.name })
    .from(chartVersion)
    .leftJoin(user, eq(user.id, chartVersion.changedBy))
    .where(and(eq(chartVersion.kind, kind), eq(chartVersion.id, id)))
    .orderBy(desc(chartVersion.version));
  return rows.map(({ version, at, member, name }) => ({
    version,
    member: member !== null && name !== null ? { id: member, name } : null,
    at: at.toISOString(),
  }));
}

/** One saved state as it was, and what it changed against the one before; null when there is none of that number. */
export async function getVersion<T extends Chart>(
  kind: ChartKind,
  id: string,
  version: number,
): Promise<{ chart: T; changes: Change[] } | null> {
  return database().transaction(async (tx) => {
    const found = await versionIn<T>(tx, kind, id, version);
    if (!found) return null;
    const before = await versionIn<T>(tx, kind, id, version - 1);
    return { chart: found.chart, changes: before ? differences(before.chart, found.chart) : [] };
  });
}

export interface ChartStep extends ChartVersion {
  changes: Change[]; // against the version before; of the first one none
  first: boolean;
}

/** The newest `most` saved states of a chart with what each of them changed, the newest first. */
export async function chartHistory(kind: ChartKind, id: string, most: number): Promise<ChartStep[]> {
  const [versions, rows] = await Promise.all([
    listVersions(kind, id),
    database()
      .select({ version: chartVersion.version, chart: chartVersion.chart })
      .from(chartVersion)
      .where(and(eq(chartVersion.kind, kind), eq(chartVersion.id, id)))
      .orderBy(desc(chartVersion.version))
      .limit(most + 1),
  ]);
  const charts = new Map(rows.map((row) => [row.version, row.chart as Chart]));
  return versions.slice(0, most).map((version) => {
    const [before, after] = [charts.get(version.version - 1), charts.get(version.version)];
    return { ...version, first: version.version === 1, changes: before && after ? differences(before, after) : [] };
  });
}
