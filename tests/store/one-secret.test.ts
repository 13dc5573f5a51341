import { afterEach, beforeEach, expect, test } from 'vitest';
import { getSetting } from '@/lib/store/club';
import { keepSecret, shareSecret } from '@/lib/store/one-secret';
import { type TestDatabase, testDatabase } from './cluster';

let db: TestDatabase;
beforeEach(async () => {
  db = await testDatabase();
});
afterEach(() => db.close());

const [one, other] = ['1'.repeat(40), '2'.repeat(40)] as const;

test('servers with the same secret share a database; one with another is refused, and told what to do', async () => {
  await shareSecret(db.database, one);
  await shareSecret(db.database, one);
  await expect(shareSecret(db.database, other)).rejects.toThrow(/^SECRET: .*Give every server the same SECRET.*delete from setting/);
  await shareSecret(db.database, one);
  await db.database.$client.query("delete from setting where key = 'secret.fingerprint'"); // as the sentence says
  await shareSecret(db.database, other);
  await expect(shareSecret(db.database, one)).rejects.toThrow();
});

test('of two first starts at once with different secrets, one is refused', async () => {
  const starts = await Promise.allSettled([shareSecret(db.database, one), shareSecret(db.database, other)]);
  expect(starts.map((s) => s.status).sort()).toEqual(['fulfilled', 'rejected']);
});

test('who is alone on a database may change the secret; the secret itself is nowhere in it', async () => {
  await keepSecret(one);
  await keepSecret(other);
  await shareSecret(db.database, other);
  expect(await getSetting('secret.fingerprint')).toMatch(/^[0-9a-f]{32}$/);
});
