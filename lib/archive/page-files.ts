/** One page as files: for people, for spreadsheets, and exactly. */
import { indexChart } from '@/lib/core/chart';
import { tally } from '@/lib/core/parts';
import type { Catalogue, Reserved, Stock, Tally } from '@/lib/core/parts/schema';
import { servedSize } from '@/lib/files/limits';
import { live } from '@/lib/live/house';
import { contentOf } from '@/lib/notebook/content';
import { evaluatePage } from '@/lib/notebook/evaluate';
import { readableMarkdown } from '@/lib/notebook/markdown';
import type { EvaluatedPage, PageContent } from '@/lib/notebook/types';
import { fixCounts } from '@/lib/store/fixes';
import { listNamedPoints, pageAt } from '@/lib/store/history';
import { getChartParts } from '@/lib/store/machines';
import { removedOn } from '@/lib/store/picture-holders';
import { getPicture } from '@/lib/store/pictures';
import { reservedFor } from '@/lib/store/stock';
import type { PageRow } from '@/lib/store/types';
import { wholeWriteUp } from '@/lib/store/whole-write-up';
import { tallyCsv } from './csv';
import type { PageFile, WriteUpFile } from './format';
import { picturePath } from './picture-files';
import { picturesOfPage, picturesOfWriteUp } from './pictures-in';
import type { ArchiveFile } from './zip-stream';

export interface Shelf {
  catalogue: Catalogue;
  stock: Stock;
}

/** What all widgets of a page need together, held against stock. */
export const tallyOf = (page: EvaluatedPage, { catalogue, stock }: Shelf, reserved: Reserved): Tally =>
  tally(
    page.widgets.flatMap((w) => (w.error ? [] : (w.definition?.needs?.(w.model) ?? []))),
    catalogue,
    stock,
    reserved,
  );

/** A page and what its widgets say today. */
export async function readPage(
  page: PageRow,
  shelf: Shelf,
): Promise<{ content: PageContent; evaluated: EvaluatedPage; reserved: Reserved }> {
  const [parts, record, removed, reserved, content] = await Promise.all([
    page.machineId ? getChartParts(page.machineId) : null,
    fixCounts(page.id),
    removedOn(page.id),
    reservedFor(page.id),
    live().read(page.id, contentOf),
  ]);
  const chart = parts ? indexChart(parts.machine, parts.design) : null;
  return { content, evaluated: evaluatePage(content, { chart, ...shelf, reserved, record, removed }), reserved };
}

/** Told of what else the archive must hold for a page: names of members, and pictures. */
export interface Seen {
  member(id: string): void;
  pictures(hashes: readonly string[]): void;
}

/** The files of a page. */
export async function pageFiles(page: PageRow, shelf: Shelf, seen: Seen): Promise<ArchiveFile[]> {
  const { content, evaluated, reserved } = await readPage(page, shelf);
  const file: PageFile = {
    id: page.id,
    machine: page.machineId,
    on: page.on,
    createdAt: page.createdAt,
    createdBy: page.createdBy,
    changedAt: page.updatedAt,
    content: content as PageFile['content'],
    points: await pointsOf(page.id),
  };
  for (const member of [file.createdBy, ...file.points.map((p) => p.by)]) if (member) seen.member(member);
  seen.pictures(picturesOfPage(file));
  const needs = tallyOf(evaluated, shelf, reserved);
  const at = `pages/${page.id}`;
  return [
    { path: `${at}/page.md`, text: await withPictures(readableMarkdown(content, evaluated)) },
    { path: `${at}/page.json`, text: `${JSON.stringify(file, null, 1)}\n` },
    ...(needs.lines.length > 0 ? [{ path: `${at}/parts.csv`, text: tallyCsv(needs) }] : []),
  ];
}

/** The page's write-up, where there is anything to keep of it. */
export async function writeUpFiles(page: string, seen: Seen): Promise<ArchiveFile[]> {
  const file: WriteUpFile | null = await wholeWriteUp(page);
  if (!file) return [];
  for (const { by } of [...file.lines, ...file.copies]) if (by) seen.member(by);
  const { photos, logos } = picturesOfWriteUp(file);
  seen.pictures([...photos, ...logos]);
  return [{ path: `pages/${page}/write-up.json`, text: `${JSON.stringify(file, null, 1)}\n` }];
}

/** Pictures by their place in the archive, the largest that is not too large to print. */
async function withPictures(markdown: string): Promise<string> {
  const sizes = new Map<string, number>();
  for (const [, hash = ''] of markdown.matchAll(shownPicture)) {
    const picture = await getPicture(hash);
    if (picture) sizes.set(hash, servedSize(picture, 1600) ?? 0);
  }
  return markdown.replace(shownPicture, (as, hash: string) => {
    const size = sizes.get(hash);
    return size === undefined ? as : `../../${picturePath(hash, size)}`;
  });
}
const shownPicture = /\/files\/([0-9a-f]{64})\/1600\b/g;

async function pointsOf(page: string): Promise<PageFile['points']> {
  const points: PageFile['points'] = [];
  for (const { number, name, by, at } of await listNamedPoints(page)) {
    const past = await pageAt(page, number);
    if (!past) continue;
    points.push({ name, at, by, content: contentOf(past.doc) as PageFile['content'] });
    past.doc.destroy();
  }
  return points;
}
