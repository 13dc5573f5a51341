import { afterAll, beforeAll, test } from 'vitest';
import { pageMarks, recentPages } from '@/lib/search/recent';
import { searchFixes, seenBefore } from '@/lib/search/search';
import { type TestDatabase, testDatabase } from '../store/cluster';
import { openHouse, seedClub } from './club';

let db: TestDatabase;
let live: any;
beforeAll(async () => {
  db = await testDatabase();
  live = openHouse(db.database);
  await seedClub();
});
afterAll(async () => {
  await live.close();
  await db.close();
});
test('probe', async () => {
  for (const q of [
    'grey/orange',
    'GRY-ORN',
    'gy og',
    'grey with an orange stripe',
    '8-3',
    'OGGY',
    'orange-grey',
    'grey-orange',
    'A3J4-7',
    'a3p4 pin 7',
    'A3J4',
    'sw 46',
    'spinner grey-orange',
    'kestrel post grey-orange',
    'spinner misses counts when warm',
    'weathervane',
    'flaky',
    'dry joint',
    'pays nothing',
    'The spinner and the tide gate stop counting late in the evening once the machine is warm, but next morning from cold both are perfect',
    'boat',
    'lantern regatta',
    'U9',
    'row 6',
    '36',
    'moon',
    'the spinner counts every turn from cold but drops out after half an hour in the back box',
    "'; drop table page; --",
    'left sling',
    'wasp',
    'sling 46',
    '12 turns of 20',
  ]) {
    const r = await searchFixes(q);
    console.log(
      `\n### ${q}  ${r.milliseconds.toFixed(1)} ms total ${r.total}\n  parts ${r.parts.map((p) => p.as + ':' + p.value + (p.synonyms.length ? '~' + p.synonyms.length : '')).join(' | ')}`,
    );
    for (const a of r.answers) console.log('  A', a.machineId, a.kind, a.id, a.title, '—', a.reason);
    for (const x of r.results.slice(0, 9)) console.log('  R', x.score.toFixed(2), x.page, x.state, '—', x.why.join('; '));
  }
  console.log(
    'SEEN',
    (await seenBefore('spinner-misses-counts-when-warm', 10))
      .map((r) => `${r.score.toFixed(1)} ${r.page} ${r.place} — ${r.why.join('; ')}`)
      .join('\n'),
  );
  console.log(JSON.stringify(await recentPages({ limit: 3 }), null, 0));
  console.log(
    JSON.stringify(await pageMarks('lantern-regatta-3')),
    (await recentPages({ state: 'open', limit: 50 })).map((p) => p.id),
    (await recentPages({ machine: null, limit: 50 })).map((p) => p.id),
  );
});
