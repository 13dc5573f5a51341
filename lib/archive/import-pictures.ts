/** The pictures of an archive that is brought in: their files first, then their rows and who holds them, with all else. */
import { inArray } from 'drizzle-orm';
import { picturesOfChart } from '@/lib/core/chart/pinned';
import { keepFiles, removeFiles } from '@/lib/files/pictures';
import type { Database } from '@/lib/store/database';
import { getPicture } from '@/lib/store/pictures';
import { designPicture, letterheadPicture, machinePicture, pagePicture, picture } from '@/lib/store/schema';
import { picturesOfPage, picturesOfWriteUp } from './pictures-in';
import { counter, type Tell } from './progress';
import type { Archive, ArchivePicture } from './read';
import type { Refusal } from './zip-read';

type Transaction = Parameters<Parameters<Database['transaction']>[0]>[0];

type Holder = { page: string } | { machine: string } | { design: string } | 'letterhead';
interface Holding {
  holder: Holder;
  hashes: string[];
}

/** What shows pictures, unless it is kept otherwise here. What is the same already may lack them: it came from an archive without any. */
export function holdingsOf({ designs, machines, pages, writeUps, letterhead }: Archive, done: ReadonlyMap<string, string>): Holding[] {
  const all: (Holding & { key: string })[] = [
    ...designs.map((chart) => ({ key: `design:${chart.id}`, holder: { design: chart.id }, hashes: picturesOfChart(chart) })),
    ...machines.map((chart) => ({ key: `machine:${chart.id}`, holder: { machine: chart.id }, hashes: picturesOfChart(chart) })),
    ...pages.flatMap((page) => {
      const key = `page:${page.id}`;
      const { photos, logos } = picturesOfWriteUp({ copies: writeUps.get(page.id)?.copies ?? [] });
      return [
        { key, holder: { page: page.id }, hashes: [...new Set([...picturesOfPage(page), ...photos])] },
        { key, holder: 'letterhead' as const, hashes: logos },
      ];
    }),
    { key: 'letterhead:club', holder: 'letterhead' as const, hashes: letterhead?.logo ? [letterhead.logo.picture] : [] },
  ];
  return all.filter(({ key, hashes }) => hashes.length > 0 && done.get(key) !== 'kept').map(({ holder, hashes }) => ({ holder, hashes }));
}

/**
 * Keeps the files of the pictures that are not here; one that is here, or was removed here, stays as it is. `takeBack` removes the files
 * again when the rest could not be kept.
 */
export async function keepPictures(
  { pictures }: Archive,
  holdings: readonly Holding[],
  tell: Tell,
): Promise<{ ok: true; rows: ArchivePicture[]; takeBack(): Promise<void> } | Refusal> {
  const wanted = new Set(holdings.flatMap(({ hashes }) => hashes));
  const rows: ArchivePicture[] = [];
  const takeBack = async () => {
    for (const row of rows) await removeFiles(row);
  };
  const looked = counter(tell, 'pictures', pictures.length);
  for (const each of pictures) {
    looked();
    if (!wanted.has(each.hash) || (await getPicture(each.hash))) continue;
    const read = each.files();
    const kept = read.ok && (await keepFiles(each, read.files));
    if (!read.ok || !kept) {
      await takeBack();
      const message = `The picture ${each.hash.slice(0, 8)}… is not what an archive of this notebook holds: its files are damaged, or hold more than a picture.`;
      return read.ok ? { ok: false, message, mend: 'Export the archive again.' } : read;
    }
    rows.push(each);
  }
  return { ok: true, rows, takeBack };
}

export async function notePictures(tx: Transaction, rows: readonly ArchivePicture[]): Promise<void> {
  for (const { hash, width, height, removedAt } of rows)
    await tx
      .insert(picture)
      .values({ hash, width, height, removedAt: removedAt === null ? null : new Date(removedAt), brought: true })
      .onConflictDoNothing();
}

/** Each page, chart or letterhead holds those of its pictures that there are; a page under the id that it was given here. */
export async function noteHoldings(
  tx: Transaction,
  holdings: readonly Holding[],
  pageHere: (id: string) => string,
  member: string,
): Promise<void> {
  for (const { holder, hashes } of holdings) {
    const known = await tx.select({ hash: picture.hash }).from(picture).where(inArray(picture.hash, hashes));
    for (const { hash } of known) {
      const own = { picture: hash, member };
      if (holder === 'letterhead') await tx.insert(letterheadPicture).values({ picture: hash }).onConflictDoNothing();
      else if ('page' in holder)
        await tx
          .insert(pagePicture)
          .values({ page: pageHere(holder.page), ...own })
          .onConflictDoNothing();
      else if ('machine' in holder)
        await tx
          .insert(machinePicture)
          .values({ ...holder, ...own })
          .onConflictDoNothing();
      else
        await tx
          .insert(designPicture)
          .values({ ...holder, ...own })
          .onConflictDoNothing();
    }
  }
}
