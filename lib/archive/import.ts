/** Brings an archive in: everything new in one transaction, or nothing of it. */
import { eq, inArray, sql } from 'drizzle-orm';
import * as Y from 'yjs';
import type { BoardDesign, Machine } from '@/lib/core/chart/schema';
import { readCatalogue } from '@/lib/core/parts';
import { live } from '@/lib/live/house';
import { writeContent } from '@/lib/notebook/content';
import { newId } from '@/lib/notebook/ids';
import type { PageContent } from '@/lib/notebook/types';
import { indexNow } from '@/lib/search/indexer';
import { type Database, database } from '@/lib/store/database';
import { letterheadKey } from '@/lib/store/letterhead';
import { boardDesign, catalogue, chartVersion, machine, page, pageUpdate, pageVersion, setting, stockMove, user } from '@/lib/store/schema';
import type { PageFile } from './format';
import { holdingsOf, keepPictures, noteHoldings, notePictures } from './import-pictures';
import { putWriteUp } from './import-write-ups';
import { type Choice, previewArchive, type Row } from './preview';
import { counter, type Tell } from './progress';
import type { Archive, ArchivePicture } from './read';

type Transaction = Parameters<Parameters<Database['transaction']>[0]>[0];
export type Done = 'added' | 'added beside' | 'replaced' | 'kept' | 'same';
export type Imported = { ok: true; rows: (Row & { done: Done })[] } | { ok: false; message: string; mend: string };

/** `choices` by key of a row; a conflict without one is kept as it is here. Pages are indexed before this resolves. */
export async function importArchive(
  archive: Archive,
  choices: Readonly<Record<string, Choice>>,
  member: string,
  tell: Tell = () => {},
): Promise<Imported> {
  const preview = await previewArchive(archive, tell);
  if (!preview.ok) return preview;
  const rows = preview.rows.map((row) => ({ ...row, done: doneOf(row, choices[row.key]) }));
  const wanted = new Map(rows.map((row) => [row.key, row.done]));
  const takes = (key: string) => wanted.get(key) === 'added' || wanted.get(key) === 'replaced';
  const parts = await mergedParts(archive, takes);
  if (!parts.ok) return parts;
  const holdings = holdingsOf(archive, wanted);
  const pictures = await keepPictures(archive, holdings, tell);
  if (!pictures.ok) return pictures;
  const made = await database()
    .transaction((tx) => addAll(tx, pictures.rows))
    .catch(async (error) => {
      await pictures.takeBack();
      throw error;
    });
  // A page that people may have open is changed through its room, as one change that its history can take back.
  const replaced = archive.pages.filter((p) => wanted.get(`page:${p.id}`) === 'replaced');
  for (const { id, content } of replaced) await live().change(id, member, (doc) => writeContent(doc, content));
  const changed = [...made, ...replaced.map((p) => p.id)];
  const found = counter(tell, 'finding', changed.length);
  for (const id of changed) {
    await indexNow(id);
    found();
  }
  return { ok: true, rows };

  async function addAll(tx: Transaction, brought: readonly ArchivePicture[]): Promise<string[]> {
    const who = await attribution(tx, archive);
    const { designs, machines, pages } = archive;
    const moves = wanted.get('stock:ledger') === 'added' ? archive.stock : [];
    const kept = counter(tell, 'keeping', designs.length + machines.length + pages.length + moves.length);
    await notePictures(tx, brought);
    for (const chart of designs) {
      if (takes(`design:${chart.id}`)) await putChart(tx, 'design', chart, member);
      kept();
    }
    for (const chart of machines) {
      if (takes(`machine:${chart.id}`)) await putChart(tx, 'machine', chart, member);
      kept();
    }
    if (parts.change) await putParts(tx, parts.merged, member);
    const ids = new Map<string, string>();
    for (const file of pages) {
      const done = wanted.get(`page:${file.id}`);
      if (done === 'added' || done === 'added beside') ids.set(file.id, await addPage(tx, file, who));
      kept();
    }
    for (const [id, file] of archive.writeUps)
      if (ids.has(id) || wanted.get(`page:${id}`) === 'replaced') await putWriteUp(tx, ids.get(id) ?? id, file, who);
    await noteHoldings(tx, holdings, (id) => ids.get(id) ?? id, member);
    await addStock(tx, moves, who, ids, kept);
    if (archive.groups && takes('thesaurus:groups')) await putSetting(tx, 'thesaurus', { groups: archive.groups });
    if (archive.letterhead && takes('letterhead:club')) await putSetting(tx, letterheadKey, archive.letterhead);
    return [...ids.values()];
  }
}

function doneOf({ state, choices }: Row, choice: Choice | undefined): Done {
  if (state !== 'conflict') return state === 'new' ? 'added' : 'same';
  const chosen = choice && choices.includes(choice) ? choice : 'keep';
  return chosen === 'keep' ? 'kept' : chosen === 'both' ? 'added beside' : 'replaced';
}

/** Who wrote, by the archive's ids: the member of that id and name who is here, else a name without an account. */
async function attribution(tx: Transaction, { members }: Archive): Promise<(id: string | null) => string | null> {
  const here = new Map<string, string>();
  for (const { id, name } of members) {
    const [known] = await tx.select({ name: user.name }).from(user).where(eq(user.id, id));
    if (known?.name === name) {
      here.set(id, id);
      continue;
    }
    const own = known ? newId() : id;
    // Nobody can sign in as them: no account belongs to the row, and .invalid is an address of nobody (RFC 2606 § 2).
    await tx
      .insert(user)
      .values({ id: own, name, email: `${own.toLowerCase()}@brought-in.invalid`, role: 'reader', removedAt: new Date() });
    here.set(id, own);
  }
  return (id) => (id === null ? null : (here.get(id) ?? null));
}

async function putChart(tx: Transaction, kind: 'design' | 'machine', chart: BoardDesign | Machine, member: string): Promise<void> {
  await tx.execute(sql`select pg_advisory_xact_lock(hashtextextended(${`chart ${kind} ${chart.id}`}, 0))`); // as lib/store/charts.ts
  const { rows } = await tx.execute<{ next: number; now: number }>(
    sql`select (coalesce(max(version), 0) + 1)::int as next, (extract(epoch from clock_timestamp()) * 1000)::float8 as now
        from chart_version where kind = ${kind} and id = ${chart.id}`,
  );
  const row = { id: chart.id, version: rows[0]?.next ?? 1, changedBy: member, changedAt: new Date(rows[0]?.now ?? Date.now()) };
  if (chart.format === 'fettlebook-board/1') {
    const set = { ...row, chart };
    await tx.insert(boardDesign).values(set).onConflictDoUpdate({ target: boardDesign.id, set });
  } else {
    const set = { ...row, chart, design: chart.design };
    await tx.insert(machine).values(set).onConflictDoUpdate({ target: machine.id, set });
  }
  await tx.insert(chartVersion).values({ kind, chart, ...row });
}

async function putSetting(tx: Transaction, key: string, json: unknown): Promise<void> {
  const value = JSON.stringify(json);
  await tx.insert(setting).values({ key, value }).onConflictDoUpdate({ target: setting.key, set: { value } });
}

async function mergedParts(archive: Archive, takes: (key: string) => boolean) {
  const [now] = await database().select({ parts: catalogue.parts }).from(catalogue);
  const taken = archive.catalogue.parts.filter((p) => takes(`part:${p.id}`));
  const by = new Map(taken.map((p) => [p.id, p]));
  const here = now?.parts.parts ?? [];
  const known = new Set(here.map((p) => p.id));
  const parts = [...here.map((p) => by.get(p.id) ?? p), ...taken.filter((p) => !known.has(p.id))];
  const read = readCatalogue({ ...(now?.parts ?? archive.catalogue), parts });
  if (!read.ok)
    return {
      ok: false as const,
      message: `The parts do not fit together: ${read.findings[0]?.message}`,
      mend: read.findings[0]?.mend ?? '',
    };
  return { ok: true as const, merged: read.value, change: taken.length > 0 };
}

async function putParts(tx: Transaction, parts: Archive['catalogue'], member: string): Promise<void> {
  const changed = { parts, changedBy: member, changedAt: new Date() };
  await tx
    .insert(catalogue)
    .values({ id: 1, version: 1, ...changed })
    .onConflictDoUpdate({ target: catalogue.id, set: { ...changed, version: sql`${catalogue.version} + 1` } });
}

/** Adds a page with its points that have a name; under an id of its own where the id is taken, also by a page that was removed. */
async function addPage(tx: Transaction, file: PageFile, who: (id: string | null) => string | null): Promise<string> {
  const taken = await tx
    .select({ id: page.id })
    .from(page)
    .where(inArray(page.id, [file.id]));
  const id = taken.length > 0 ? newId() : file.id;
  const by = who(file.createdBy);
  const steps = [...file.points, { name: null, at: file.changedAt, by, content: file.content }];
  const updates = updatesOf(steps.map((s) => s.content));
  await tx.insert(page).values({
    id,
    machine: file.machine,
    day: file.on,
    createdBy: by,
    createdAt: new Date(file.createdAt),
    changedAt: new Date(file.changedAt),
    head: updates.length,
  });
  for (const [i, step] of steps.entries()) {
    const number = i + 1;
    const own = { page: id, number, member: who(step.by), at: new Date(step.at) };
    await tx.insert(pageUpdate).values({ ...own, bytes: Buffer.from(updates[i] as Uint8Array) });
    if (step.name !== null) await tx.insert(pageVersion).values({ ...own, name: step.name });
  }
  return id;
}

/** One update (Yjs, V1) for each state, which makes it of the one before. */
function updatesOf(states: PageContent[]): Uint8Array[] {
  const doc = new Y.Doc();
  const updates = states.map((content) => {
    const before = Y.encodeStateVector(doc);
    writeContent(doc, content);
    return Y.encodeStateAsUpdate(doc, before);
  });
  doc.destroy();
  return updates;
}

async function addStock(
  tx: Transaction,
  moves: Archive['stock'],
  who: (id: string | null) => string | null,
  pages: Map<string, string>,
  kept: () => void,
) {
  const ids: number[] = [];
  for (const { page: on, by, at, undoes, ...move } of moves) {
    const back = undoes === null ? null : (ids[undoes] ?? null);
    const [row] = await tx
      .insert(stockMove)
      .values({ ...move, undoes: back, page: on ? (pages.get(on) ?? null) : null, member: who(by), at: new Date(at) })
      .returning({ id: stockMove.id });
    ids.push(row!.id);
    kept();
  }
}
