/** The page's past: stretches of work, the page as it was, and points with a name. */
import { and, asc, eq, gt, isNull, lte, sql } from 'drizzle-orm';
import * as Y from 'yjs';
import { type Database, database } from './database';
import { unpack } from './packing';
import { page, pageBase, pageStretch, pageUpdate, pageVersion, user } from './schema';
import { groupEntries, type StretchMark } from './stretches';
import type { Stretch } from './types';

type Transaction = Parameters<Parameters<Database['transaction']>[0]>[0];
/** Reads in one snapshot, so that folding between two queries hides nothing. */
const atOnce = <T>(read: (tx: Transaction) => Promise<T>): Promise<T> =>
  database().transaction(read, { isolationLevel: 'repeatable read', accessMode: 'read only' });

const pageThere = async (tx: Transaction, id: string) =>
  (
    await tx
      .select({ head: page.head, base: sql<number>`coalesce(${pageBase.number}, 0)`.mapWith(Number) })
      .from(page)
      .leftJoin(pageBase, eq(pageBase.page, page.id))
      .where(and(eq(page.id, id), isNull(page.removedAt)))
  )[0];

/** All stretches of a page, newest first; empty when there is no such page. `bytes` is the stored size: compressed once it is folded. */
export async function listStretches(id: string): Promise<Stretch[]> {
  return atOnce(async (tx) => {
    if (!(await pageThere(tx, id))) return [];
    const { first, number, members, began, at } = pageStretch;
    const folded = await tx
      .select({ first, number, members, began, at, bytes: sql<number>`octet_length(${pageStretch.bytes})` })
      .from(pageStretch)
      .where(eq(pageStretch.page, id))
      .orderBy(asc(number));
    const tail = await tx
      .select({ number: pageUpdate.number, member: pageUpdate.member, at: pageUpdate.at, bytes: sql<number>`octet_length(bytes)` })
      .from(pageUpdate)
      .where(eq(pageUpdate.page, id))
      .orderBy(asc(pageUpdate.number));
    const versions = await tx
      .select({ number: pageVersion.number, name: pageVersion.name })
      .from(pageVersion)
      .where(eq(pageVersion.page, id));
    const names = new Map(versions.map((v) => [v.number, v.name]));
    const marks: (StretchMark & { bytes: number })[] = folded.map((s) => ({ ...s, began: s.began.getTime(), at: s.at.getTime() }));
    const fresh = groupEntries(
      marks.at(-1) ?? null,
      tail.map((e) => ({ ...e, at: e.at.getTime() })),
      new Set(names.keys()),
    );
    let next = 0;
    for (const group of fresh) {
      let bytes = 0;
      for (; next < tail.length && tail[next]!.number <= group.number; next++) bytes += tail[next]!.bytes;
      const goesOn = marks.at(-1)?.first === group.first ? marks.pop() : undefined;
      marks.push({ ...group, bytes: bytes + (goesOn?.bytes ?? 0) });
    }
    const ids = [...new Set(marks.flatMap((s) => s.members))];
    const people = ids.length
      ? await tx
          .select({ id: user.id, name: user.name })
          .from(user)
          .where(sql`${user.id} = any(${sql.param(ids)}::text[])`)
      : [];
    const known = new Map(people.map((m) => [m.id, m]));
    return marks.reverse().map((s) => ({
      number: s.number,
      from: s.first,
      members: s.members.flatMap((member) => known.get(member) ?? []),
      began: new Date(s.began).toISOString(),
      at: new Date(s.at).toISOString(),
      bytes: s.bytes,
      name: names.get(s.number) ?? null,
    }));
  });
}

/** The page as it was. */
export interface PastPage {
  number: number;
  /** A document of its own; to be destroyed by whoever asked. */
  doc: Y.Doc;
}

/**
 * The page as it was at entry `number`. What is not folded yet is exact to the entry. Of what is folded only the ends of stretches are
 * left: a number inside a folded stretch gives the page at the end of that stretch, and the `number` that comes back says so.
 * Null when there is no such page or no such entry.
 */
export async function pageAt(id: string, number: number): Promise<PastPage | null> {
  const parts = await atOnce(async (tx) => {
    const known = await pageThere(tx, id);
    if (!known || !Number.isSafeInteger(number) || number < 0 || number > known.head) return null;
    if (number >= known.base) {
      const base = await tx.select({ bytes: pageBase.bytes }).from(pageBase).where(eq(pageBase.page, id));
      const tail = await tx
        .select({ bytes: pageUpdate.bytes })
        .from(pageUpdate)
        .where(and(eq(pageUpdate.page, id), gt(pageUpdate.number, known.base), lte(pageUpdate.number, number)))
        .orderBy(asc(pageUpdate.number));
      return { number, folded: base, tail };
    }
    if (number === 0) return { number, folded: [], tail: [] };
    const end = sql`(select min(s.number) from page_stretch s where s.page = ${id} and s.number >= ${number})`;
    const folded = await tx
      .select({ number: pageStretch.number, bytes: pageStretch.bytes })
      .from(pageStretch)
      .where(and(eq(pageStretch.page, id), lte(pageStretch.number, end)))
      .orderBy(asc(pageStretch.number));
    return { number: folded.at(-1)?.number ?? number, folded, tail: [] };
  });
  if (!parts) return null;
  const doc = new Y.Doc({ gc: true });
  doc.transact(() => {
    for (const { bytes } of parts.folded) Y.applyUpdateV2(doc, unpack(bytes));
    for (const { bytes } of parts.tail) Y.applyUpdate(doc, bytes);
  });
  return { number: parts.number, doc };
}

/** The points of a page that have a name, oldest first. */
export async function listNamedPoints(id: string): Promise<{ number: number; name: string; by: string | null; at: string }[]> {
  const rows = await database().select().from(pageVersion).where(eq(pageVersion.page, id)).orderBy(asc(pageVersion.number));
  return rows.map(({ number, name, member, at }) => ({ number, name, by: member, at: at.toISOString() }));
}

export type Named = { ok: true } | { ok: false; message: string };
export const longestName = 80; // characters

/**
 * Gives the page's point `number` a name, or another one; an empty one takes it away. A named point stays one of its own: no stretch goes past it.
 * Refused, with a sentence for the member, when there is no such point or it lies inside a stretch that is folded already.
 */
export async function nameVersion(id: string, number: number, name: string, member: string | null): Promise<Named> {
  const no = (message: string): Named => ({ ok: false, message });
  const said = name.trim();
  if (said.length > longestName) return no(`Name: write at most ${longestName} characters.`);
  if (!said) {
    await database()
      .delete(pageVersion)
      .where(and(eq(pageVersion.page, id), eq(pageVersion.number, number)));
    return { ok: true };
  }
  return database().transaction(async (tx): Promise<Named> => {
    // The lock keeps a fold from swallowing the point meanwhile.
    const [known] = await tx
      .select({ head: page.head })
      .from(page)
      .where(and(eq(page.id, id), isNull(page.removedAt)))
      .for('no key update');
    if (!known) return no('This page has been removed.');
    if (!Number.isSafeInteger(number) || number < 1 || number > known.head) return no('There is no such point. Load the history again.');
    const [around] = await tx
      .select({ number: pageStretch.number })
      .from(pageStretch)
      .where(and(eq(pageStretch.page, id), lte(pageStretch.first, number), gt(pageStretch.number, number)));
    if (around) return no('This point has gone into a longer stretch of work. Load the history again, and name the end of that one.');
    await tx
      .insert(pageVersion)
      .values({ page: id, number, name: said, member })
      .onConflictDoUpdate({ target: [pageVersion.page, pageVersion.number], set: { name: said, member, at: sql`now()` } });
    return { ok: true };
  });
}
