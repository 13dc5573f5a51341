/**
 * Two who change members at the same moment. A third connection holds a table that each change writes late, so that all contenders have
 * begun, and have looked at what there is, before any of them ends: without the lock of lib/store/accounts.ts every one of them would win.
 */
import pg from 'pg';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { changeRole, removeMember } from '@/lib/access/accounts';
import { hashOf, newToken } from '@/lib/access/secret-tokens';
import { type AccountToKeep, addFirstOwner, addInvited } from '@/lib/store/accounts';
import { createInvite } from '@/lib/store/invites';
import { countMembers, listMembers } from '@/lib/store/members';
import { type TestDatabase, testDatabase } from '../store/cluster';
import { join } from './house';
import { countOwners } from './owners';

let db: TestDatabase;
let holder: pg.Client;
beforeEach(async () => {
  db = await testDatabase();
  holder = new pg.Client(db.connection);
  await holder.connect();
});
afterEach(async () => {
  await holder.end();
  await db.close();
});

/** Starts all at once, waits until every one of them waits for a lock, then lets them go. */
async function together<T>(table: 'account' | 'invite', starts: (() => Promise<T>)[]): Promise<T[]> {
  await holder.query(`begin; lock table ${table} in share mode`);
  const all = Promise.all(starts.map((start) => start()));
  // Asked over another connection: within its transaction the holder would be given the same answer each time.
  for (let waiting = 0; waiting < starts.length; ) {
    const { rows } = await db.database.$client.query<{ count: number }>(
      "select count(*)::int from pg_stat_activity where datname = current_database() and wait_event_type = 'Lock'",
    );
    waiting = rows[0]?.count ?? 0;
  }
  await holder.query('commit');
  return all;
}
const kept = (name: string): AccountToKeep => ({ name, email: `${name}@club.example`, passwordHash: 'not asked here' });
const six = ['a', 'b', 'c', 'd', 'e', 'f'];

test('six first owners: one is made', async () => {
  const made = await together(
    'account',
    six.map((name) => () => addFirstOwner(kept(name))),
  );
  expect(made.filter((id) => id !== null)).toHaveLength(1);
  expect([await countMembers(), await countOwners()]).toEqual([1, 1]);
});

test('six who hold one invite: one joins', async () => {
  const hash = hashOf(newToken());
  await createInvite({ hash, role: 'editor', createdBy: null, expiresAt: new Date(Date.now() + 60_000) });
  const outcomes = await together(
    'account',
    six.map((name) => () => addInvited(hash, kept(name))),
  );
  expect(outcomes.toSorted()).toEqual(['joined', ...Array(5).fill('no-invite')]);
  expect(await listMembers()).toHaveLength(1);
});

test('two who join with one e-mail: one joins, and the other’s invite stays good', async () => {
  const hashes = [hashOf(newToken()), hashOf(newToken())];
  for (const hash of hashes) await createInvite({ hash, role: 'editor', createdBy: null, expiresAt: new Date(Date.now() + 60_000) });
  const outcomes = await together(
    'account',
    hashes.map((hash) => () => addInvited(hash, kept('same'))),
  );
  expect(outcomes.toSorted()).toEqual(['joined', 'taken']);
  const spare = hashes[outcomes.indexOf('taken')] ?? '';
  expect(await addInvited(spare, kept('other'))).toBe('joined');
});

test('two owners, one demoted and one removed: one owner stays', async () => {
  const [ines, tomas] = [await join('Ines', 'owner'), await join('Tomas', 'owner')];
  const outcomes = await together('invite', [() => changeRole(ines.id, 'reader'), () => removeMember(tomas.id)]);
  expect(outcomes.filter((o) => o.ok)).toHaveLength(1);
  expect(await countOwners()).toBe(1);
});

test('four owners, all removed: one stays', async () => {
  const owners = await Promise.all(['A', 'B', 'C', 'D'].map((name) => join(name, 'owner')));
  const outcomes = await together(
    'account',
    owners.map((o) => () => removeMember(o.id)),
  );
  expect(outcomes.filter((o) => o.ok)).toHaveLength(3);
  expect(await countOwners()).toBe(1);
});
