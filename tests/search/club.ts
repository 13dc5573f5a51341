/** The demo club in a database of its own, with every page indexed. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { readDesign, readMachine } from '@/lib/core/chart';
import type { Machine } from '@/lib/core/chart/schema';
import { readCatalogue } from '@/lib/core/parts';
import { setLive } from '@/lib/live/house';
import { createLive, type Live } from '@/lib/live/server';
import { newPageDoc } from '@/lib/notebook/content';
import { fromMarkdown } from '@/lib/notebook/markdown';
import type { PageContent } from '@/lib/notebook/types';
import { indexNow } from '@/lib/search/indexer';
import type { Database } from '@/lib/store/database';
import { pageLog } from '@/lib/store/log';
import { putDesign, putMachine } from '@/lib/store/machines';
import { createPage } from '@/lib/store/pages';
import { putCatalogue } from '@/lib/store/parts';

const folder = join(import.meta.dirname, '..', '..', 'content');
const text = (...path: string[]) => readFileSync(join(folder, ...path), 'utf8');
const json = (...path: string[]): unknown => JSON.parse(text(...path));
const must = <T>(read: { ok: true; value: T } | { ok: false }): T => {
  if (!read.ok) throw new Error('the demo content does not read');
  return read.value;
};

/** Page ids are the names of their files without the ending. */
export const pageNames = (json('pages', 'index.json') as { file: string }[]).map(({ file }) => file.replace(/\.md$/, ''));
export const pageText = (name: string) => text('pages', `${name}.md`);
export const machineOf = (id: string): Machine => must(readMachine(json('machines', `${id}.json`)));

export function contentFrom(markdown: string): PageContent {
  const read = fromMarkdown(markdown);
  if (!read.ok) throw new Error(read.message);
  return read.content;
}

/** A live server that nobody can reach from outside. */
export function openHouse(database: Database): Live {
  const live = createLive({
    log: pageLog(database),
    authorize: async () => 403,
    sameOrigin: () => false,
    onCommitted: () => {},
  });
  setLive(live);
  return live;
}

export async function seedClub() {
  for (const file of ['sb-1', 'sb-2']) await putDesign(must(readDesign(json('designs', `${file}.json`))), null, null);
  for (const id of ['lantern-regatta-3', 'kestrel-post-1', 'tin-orchard']) await putMachine(machineOf(id), null, null);
  await putCatalogue(must(readCatalogue(json('catalogue.json'))), null, null);
  for (const entry of json('pages', 'index.json') as { file: string; machine: string | null; on: string }[]) {
    const id = entry.file.replace(/\.md$/, '');
    const update = newPageDoc(contentFrom(text('pages', entry.file)));
    await createPage({ id, machineId: entry.machine, member: null, on: entry.on, update });
    await indexNow(id);
  }
}
