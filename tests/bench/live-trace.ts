/**
 * A real editing history pushed through the log, folded, opened. The history (CC BY 4.0, prepared by Martin Kleppmann, from
 * josephg/editing-traces) is not part of the project: without it this part says so.
 */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import { sql } from 'drizzle-orm';
import * as Y from 'yjs';
import { Committer } from '@/lib/live/commit';
import { applyLoaded } from '@/lib/live/loaded';
import { mergeAll } from '@/lib/live/merge';
import type { Database } from '@/lib/store/database';
import { logThatFolds, startFolding } from '@/lib/store/folding';
import { pageLog } from '@/lib/store/log';
import { createPage } from '@/lib/store/pages';
import { figure, median } from './figure';

const file = join(import.meta.dirname, '../../../shared/data/paper-trace.json.gz');
interface Trace {
  endContent: string;
  txns: { patches: [at: number, deleted: number, inserted: string][] }[];
}

export async function benchTrace(database: Database) {
  if (!existsSync(file)) {
    console.log('The paper’s editing history is not here (shared/data/paper-trace.json.gz): stored bytes and cold open are not measured.');
    return;
  }
  console.log('Editing history: CC BY 4.0, prepared by Martin Kleppmann, published in josephg/editing-traces.');
  const trace = JSON.parse(gunzipSync(readFileSync(file)).toString('utf8')) as Trace;
  const doc = new Y.Doc();
  const updates: Uint8Array[] = [];
  doc.on('update', (update: Uint8Array) => updates.push(update));
  const text = doc.getText('text');
  for (const { patches } of trace.txns)
    for (const [at, deleted, inserted] of patches) {
      if (deleted) text.delete(at, deleted);
      if (inserted) text.insert(at, inserted);
    }
  if (text.toString() !== trace.endContent) throw new Error('The replayed history does not end in the recorded text.');

  // Letter by letter into the group commit, as frames from a socket are.
  const page = (await createPage({ machineId: null, member: null, update: Y.encodeStateAsUpdate(new Y.Doc()) })).id;
  const folding = startFolding(database);
  const log = logThatFolds(pageLog(database), folding);
  const committer = new Committer(log, { saved() {}, gone() {} });
  const began = performance.now();
  for (let k = 0; k < updates.length; k += 64) {
    for (const update of updates.slice(k, k + 64)) committer.add(page, update, null);
    await committer.settled(page);
  }
  figure(
    'live',
    `the paper’s history, ${updates.length} letters, into the log`,
    updates.length / ((performance.now() - began) / 1000),
    'letters/s',
  );
  folding.rested(page); // as when its document leaves the memory: an opening is cold only after that
  await folding.settled();
  const { rows } = await database.execute<{ bytes: string }>(sql`
    select (select coalesce(sum(octet_length(bytes)), 0) from page_base where page = ${page})
      + (select coalesce(sum(octet_length(bytes)), 0) from page_stretch where page = ${page})
      + (select coalesce(sum(octet_length(bytes)), 0) from page_update where page = ${page}) as bytes`);
  const single = Y.encodeStateAsUpdate(doc);
  figure('live', 'a single merged update, its deleted words collected', single.length, 'bytes');
  figure('live', 'all updates merged as they are', mergeAll(updates).length, 'bytes');
  figure('live', 'stored, with the whole history', Number(rows[0]?.bytes), 'bytes');
  figure('live', 'stored / single merged update', Number(rows[0]?.bytes) / single.length, '×', 1.1);

  const raw: number[] = [];
  const opened: number[] = [];
  for (let round = 0; round < 12; round++) {
    let start = performance.now();
    const one = new Y.Doc();
    Y.applyUpdate(one, single);
    raw.push(performance.now() - start);
    start = performance.now();
    const two = new Y.Doc();
    applyLoaded(two, await log.load(page));
    opened.push(performance.now() - start);
    if (two.getText('text').toString() !== trace.endContent) throw new Error('What was opened is not the recorded text.');
  }
  figure('live', 'raw decode of the single update, median', median(raw), 'ms');
  figure('live', 'cold open from the log, median', median(opened), 'ms');
  figure('live', 'cold open / raw decode', median(opened) / median(raw), '×', 1.2);
  await folding.close();
}
