/** Loads the demo club of content/ into an empty notebook. Runs once; a notebook that has members is left alone. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { sql } from 'drizzle-orm';
import * as z from 'zod';
import { demoMembers } from '@/app/demo';
import { createMember, isFirstRun } from '@/lib/access/accounts';
import { roles } from '@/lib/access/can';
import { readDesign, readMachine } from '@/lib/core/chart';
import { withPhoto, withPinsOn } from '@/lib/core/chart/pinned';
import { chartPhoto, pinned } from '@/lib/core/chart/schema';
import { readCatalogue } from '@/lib/core/parts';
import { stockCount } from '@/lib/core/parts/schema';
import { keepPicture } from '@/lib/files/pictures';
import { newPageDoc } from '@/lib/notebook/content';
import { fromMarkdown } from '@/lib/notebook/markdown';
import { setSetting } from '@/lib/store/club';
import type { Database } from '@/lib/store/database';
import { setLetterhead } from '@/lib/store/letterhead';
import { getMachine, putDesign, putMachine } from '@/lib/store/machines';
import { createPage } from '@/lib/store/pages';
import { putCatalogue } from '@/lib/store/parts';
import { holdOnChart } from '@/lib/store/pictures';
import { settings } from '@/lib/store/settings';
import { writeEntry } from '@/lib/store/stock';

const content = join(import.meta.dirname, '..', 'content');
const json = (name: string): unknown => JSON.parse(readFileSync(join(content, name), 'utf8'));
const club = z.object({
  name: z.string(),
  address: z.array(z.string()),
  hour: z.number(), // minor units for an hour's work
  members: z.array(z.object({ name: z.string(), email: z.string(), role: z.enum(roles) })),
});
const demoPhoto = z.object({
  machine: z.string(),
  file: z.string(),
  caption: z.string(),
  on: z.string(),
  by: z.string(),
  pinned: z.array(pinned.omit({ photo: true })),
});
const pageIndex = z.array(z.object({ file: z.string(), machine: z.string().nullable(), by: z.string(), on: z.string() }));

const must = <T>(what: string, read: { ok: true; value: T } | { ok: false; findings: { path: string; message: string }[] }): T => {
  if (read.ok) return read.value;
  throw new Error(`${what}: ${read.findings.map((f) => `${f.path} ${f.message}`).join('; ')}`);
};

const seedLock = 7_305_004; // beside those of lib/store: of several first starts on one database, one loads

export const seedDemo = (on: Database): Promise<void> =>
  on.transaction(async (tx) => {
    await tx.execute(sql`select pg_advisory_xact_lock(${seedLock}::bigint)`);
    if (await isFirstRun()) await load();
  });

async function load() {
  console.log('Loading the demo club.');
  const { name, address, hour, members } = club.parse(json('club.json'));
  const ids = new Map<string, string>();
  for (const m of members) ids.set(m.name, await createMember({ ...m, password: demoMembers.password }));
  await setSetting('club.name', name);
  await setLetterhead({ name, address, logo: null, currency: 'GBP', rate: hour });
  const by = ids.get(members[0]?.name ?? '') ?? null;
  for (const file of ['sb-1', 'sb-2']) await putDesign(must(file, readDesign(json(`designs/${file}.json`))), null, by);
  for (const file of ['lantern-regatta-3', 'kestrel-post-1', 'tin-orchard'])
    await putMachine(must(file, readMachine(json(`machines/${file}.json`))), null, by);
  await seedPhoto('kestrel-post-1', by);
  await putCatalogue(must('catalogue', readCatalogue(json('catalogue.json'))), null, by);
  for (const [part, quantity] of Object.entries(stockCount.parse(json('stock.json')))) {
    if (quantity > 0) await writeEntry({ kind: 'counted', pieces: quantity }, { part, member: by });
  }
  for (const entry of pageIndex.parse(json('pages/index.json'))) {
    const read = fromMarkdown(readFileSync(join(content, 'pages', entry.file), 'utf8'));
    if (!read.ok) throw new Error(`${entry.file}: ${read.message} ${read.mend}`);
    await createPage({ machineId: entry.machine, member: ids.get(entry.by) ?? by, on: entry.on, update: newPageDoc(read.content) });
  }
}

/** A drawn picture of a playfield, with its circuits pinned on it. */
async function seedPhoto(name: string, member: string | null) {
  const { machine, file, pinned, ...about } = demoPhoto.parse(json(`photos/${name}.json`));
  const kept = await keepPicture(readFileSync(join(content, 'photos', file)));
  const there = await getMachine(machine);
  if (!kept.ok || !there) throw new Error(`photos/${file} was not taken.`);
  const { hash, width, height } = kept.picture;
  await holdOnChart('machine', machine, hash, member);
  const shown = withPhoto(there.machine, chartPhoto.parse({ ...about, picture: hash, width, height }));
  await putMachine(withPinsOn(shown, hash, about.caption, pinned), there.version, member);
}

/** How to sign in, for the terminal. */
export function demoWelcome(): string {
  const rows = demoMembers.members.map((m) => `  ${m.email.padEnd(32)} ${m.role}`);
  return [`Sign in at ${settings().baseUrl}/sign-in with the password ${demoMembers.password} as any of`, ...rows].join('\n');
}
