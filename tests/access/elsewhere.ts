/** Another server of the same club, as far as signing in goes: `{ connection, tries }` as JSON. Sends what it answered. */
import './house';
import type pg from 'pg';
import { signIn } from '@/lib/access/accounts';
import { clientHeader } from '@/lib/http/client-address';
import { closeDatabase, openDatabase } from '@/lib/store/database';

const { connection, tries } = JSON.parse(process.argv[2] ?? '{}') as {
  connection: pg.PoolConfig;
  tries: { email: string; password: string; address?: string }[];
};
await openDatabase(connection);
const answers = await Promise.all(
  tries.map(({ email, password, address }) => signIn(email, password, new Headers(address ? { [clientHeader]: address } : {}))),
);
await closeDatabase();
process.send?.(answers, () => process.disconnect());
