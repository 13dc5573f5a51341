/** Which pictures there are, and which page, chart or letterhead holds which. */
import { and, eq, inArray, isNull, or, sql } from 'drizzle-orm';
import type { ChartKind } from './charts';
import { database } from './database';
import { designPicture, letterheadPicture, machinePicture, pagePicture, picture } from './schema';

/** Upright, in pixels, as it came. */
interface Extent {
  width: number;
  height: number;
}
export interface PictureRow extends Extent {
  hash: string; // SHA-256 of the bytes that were sent, hex
  /** When it was removed for good; null while it is here. */
  removedAt: Date | null;
  /** It came in an archive: its name is only what the archive said. */
  brought: boolean;
}
const columns = {
  hash: picture.hash,
  width: picture.width,
  height: picture.height,
  removedAt: picture.removedAt,
  brought: picture.brought,
};

const heldByPage = sql<boolean>`exists (select 1 from page_picture h join page p on p.id = h.page and p.removed_at is null where h.picture = ${picture.hash})`;
const heldByChart = sql<boolean>`(exists (select 1 from machine_picture h where h.picture = ${picture.hash})
  or exists (select 1 from design_picture h where h.picture = ${picture.hash}))`;
const heldByLetterhead = sql<boolean>`exists (select 1 from letterhead_picture h where h.picture = ${picture.hash})`;

export async function getPicture(hash: string): Promise<PictureRow | null> {
  const [row] = await database().select(columns).from(picture).where(eq(picture.hash, hash));
  return row ?? null;
}

/** Notes a picture whose files are kept; of one that is known, whose bytes came now, the name is sure from then on. */
export async function putPicture({ hash, width, height }: Extent & { hash: string }): Promise<PictureRow> {
  const sure = { width, height, brought: false };
  const [row] = await database()
    .insert(picture)
    .values({ hash, ...sure })
    .onConflictDoUpdate({ target: picture.hash, set: sure })
    .returning(columns);
  return row as PictureRow;
}

/** The page holds the picture from now on. Throws when there is no such page or picture. */
export async function holdOnPage(page: string, hash: string, member: string | null): Promise<void> {
  await database().insert(pagePicture).values({ page, picture: hash, member }).onConflictDoNothing();
}

/** The chart holds the picture from now on, in whatever version it is shown. */
export async function holdOnChart(kind: ChartKind, id: string, hash: string, member: string | null): Promise<void> {
  const own = { picture: hash, member };
  if (kind === 'machine')
    await database()
      .insert(machinePicture)
      .values({ machine: id, ...own })
      .onConflictDoNothing();
  else
    await database()
      .insert(designPicture)
      .values({ design: id, ...own })
      .onConflictDoNothing();
}

/** The picture is a logo from now on, also after another has taken its place: copies that were sent show it. */
export async function holdOnLetterhead(hash: string): Promise<void> {
  await database().insert(letterheadPicture).values({ picture: hash }).onConflictDoNothing();
}

/**
 * The page holds, beside those that were sent to it, the pictures that were copied to it from where they can be seen: a hash that somebody
 * wrote by hand opens nothing that no page holds.
 */
export async function holdShown(page: string, hashes: readonly string[]): Promise<void> {
  if (hashes.length === 0) return;
  const visible = and(inArray(picture.hash, [...hashes]), or(heldByPage, heldByChart));
  await database()
    .insert(pagePicture)
    .select(
      database()
        .select({
          page: sql<string>`${page}`.as('page'),
          picture: picture.hash,
          member: sql<string | null>`null::text`.as('member'),
          at: sql<Date>`now()`.as('at'),
        })
        .from(picture)
        .where(visible),
    )
    .onConflictDoNothing();
}

/** The page lets go of the picture. False when it did not hold it. */
export async function releaseFromPage(page: string, hash: string): Promise<boolean> {
  const gone = await database()
    .delete(pagePicture)
    .where(and(eq(pagePicture.page, page), eq(pagePicture.picture, hash)))
    .returning({ page: pagePicture.page });
  return gone.length > 0;
}

/** A picture and what sort of thing holds it; removed pages hold nothing. Null when there is no such picture. */
export async function heldPicture(
  hash: string,
): Promise<(PictureRow & { onPage: boolean; onChart: boolean; onLetterhead: boolean }) | null> {
  const [row] = await database()
    .select({ ...columns, onPage: heldByPage, onChart: heldByChart, onLetterhead: heldByLetterhead })
    .from(picture)
    .where(eq(picture.hash, hash));
  return row ?? null;
}

/** Whether that page, which was not removed, holds the picture. */
export async function pageHolds(page: string, hash: string): Promise<boolean> {
  const { rows } = await database().execute(
    sql`select 1 from page_picture h join page p on p.id = h.page and p.removed_at is null where h.page = ${page} and h.picture = ${hash}`,
  );
  return rows.length > 0;
}

/** Removes the row of a picture that nothing holds, not even a removed page. False when something does, or when it was removed for good. */
export async function deletePicture(hash: string): Promise<boolean> {
  const gone = await database()
    .delete(picture)
    .where(
      and(
        eq(picture.hash, hash),
        sql`not exists (select 1 from page_picture h where h.picture = ${picture.hash})`,
        isNull(picture.removedAt),
        sql`not ${heldByChart}`,
        sql`not ${heldByLetterhead}`,
      ),
    )
    .returning({ hash: picture.hash });
  return gone.length > 0;
}

/** Notes that a picture was removed for good, by whom; whatever holds it goes on holding its name. Null when there is no such picture. */
export async function noteRemoved(hash: string, member: string): Promise<PictureRow | null> {
  await database()
    .update(picture)
    .set({ removedAt: sql`now()`, removedBy: member })
    .where(and(eq(picture.hash, hash), isNull(picture.removedAt)));
  return getPicture(hash);
}
