/** Run by a test as another user: starts PostgreSQL on a data folder, says so, stops it. */
import pg from 'pg';
import { startPostgres } from '@/lib/store/postgres';

const server = await startPostgres(process.argv[2] ?? '');
const client = new pg.Client(server.connection);
await client.connect();
const { rows } = await client.query<{ answer: number }>('select 6 * 7 as answer');
await client.end();
await server.stop();
console.log(JSON.stringify({ uid: process.getuid?.(), answer: rows[0]?.answer, notice: server.notice ?? null }));
