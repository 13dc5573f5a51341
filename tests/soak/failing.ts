/** Logs and databases whose n-th call fails, once or until they are mended: before the work, or after it when only the answer is lost. */
import type pg from 'pg';
import type { LogEntry, LogPage, UpdateLog } from '@/lib/store/types';

export type When = 'before' | 'after';

/** Counts calls and says which of them fail. */
export class Plan {
  calls = 0;
  failures = 0;
  private mended = false;

  constructor(
    readonly at: number,
    readonly when: When,
    readonly forEver: boolean,
  ) {}

  /** Counts one call: null when it is to work. */
  next(): When | null {
    this.calls++;
    if (this.mended || (this.forEver ? this.calls < this.at : this.calls !== this.at)) return null;
    this.failures++;
    return this.when;
  }

  mend() {
    this.mended = true;
  }
}

/** A log of which a call fails. A read whose answer is lost is a read that failed. */
export class FailingLog implements UpdateLog {
  constructor(
    private readonly log: UpdateLog,
    private readonly plan: Plan,
  ) {}

  async load(page: string, after?: number): Promise<LogPage> {
    if (this.plan.next()) throw new Error('the load fails, as the test wants');
    return this.log.load(page, after);
  }

  async append(entries: LogEntry[]): Promise<number[]> {
    const fails = this.plan.next();
    if (fails === 'before') throw new Error('the append fails, as the test wants');
    const numbers = await this.log.append(entries);
    if (fails === 'after') throw new Error('the answer to the append is lost, as the test wants');
    return numbers;
  }
}

/** What the database itself is told to do: its end of the connection goes away. */
const hangUp = 'select pg_terminate_backend(pg_backend_pid())';

/** From now on statements of the pool fail by plan: the server breaks the connection, so what it was amid is rolled back. */
export function sabotage(pool: pg.Pool, plan: () => Plan) {
  const connect = pool.connect.bind(pool) as () => Promise<pg.PoolClient>;
  const run = async (client: pg.PoolClient, given: unknown[]) => {
    const query = client.query.bind(client) as (...all: unknown[]) => Promise<unknown>;
    const fails = plan().next();
    if (fails === 'before') return query(hangUp);
    const answer = await query(...given);
    return fails === 'after' ? query(hangUp) : answer;
  };
  const checkOut = async () => {
    const client = await connect();
    return new Proxy(client, {
      get: (target, name) => (name === 'query' ? (...given: unknown[]) => run(target, given) : Reflect.get(target, name)),
    });
  };
  const query = async (...given: unknown[]) => {
    const client = await connect();
    try {
      const answer = await run(client, given);
      client.release();
      return answer;
    } catch (error) {
      client.release(true);
      throw error;
    }
  };
  Object.assign(pool, { connect: checkOut, query });
}
