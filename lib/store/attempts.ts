/** Slows guessing: so many attempts a minute for one key, such as an account or an address, over all servers of the database. */
import { sql } from 'drizzle-orm';
import { database } from './database';
import { attempt } from './schema';

const mostKeys = 10_000; // whoever can send from more addresses than that in a minute is not held up by counting
const fresh = sql`clock_timestamp() - interval '1 minute'`; // the database's clock: those of servers differ
const newest = sql`coalesce(${attempt.taken}[cardinality(${attempt.taken})], '-infinity'::timestamptz)`;

/**
 * Takes an attempt; false when none of `limit` is left. To be taken before the password is checked: of many at once, only so many pass.
 * Rejects when the database does not answer; nothing may be checked then.
 */
export async function takeAttempt(key: string, limit: number): Promise<boolean> {
  const { rowCount } = await database().execute(sql`
    insert into ${attempt} (key, taken) values (${key}, array[clock_timestamp()])
    on conflict (key) do update
      set taken = array(select t from unnest(${attempt.taken}) t where t > ${fresh} order by t) || clock_timestamp()
      where (select count(*) from unnest(${attempt.taken}) t where t > ${fresh}) < ${limit}`);
  return rowCount === 1;
}

/** Gives the newest attempt back: it was a right one. */
export async function giveBackAttempt(key: string): Promise<void> {
  await database()
    .update(attempt)
    .set({ taken: sql`trim_array(${attempt.taken}, least(1, cardinality(${attempt.taken})))` })
    .where(sql`${attempt.key} = ${key}`);
}

/** Forgets keys whose minute is over, and the oldest of more than ten thousand. */
export async function forgetAttempts(most = mostKeys): Promise<void> {
  await database().execute(sql`
    delete from ${attempt} where key in (
      select key from ${attempt} where ${newest} <= greatest(${fresh}, (select ${newest} from ${attempt} order by ${newest} desc offset ${most} limit 1))
      for update skip locked)`); // two servers that forget at once do not wait for each other
}
