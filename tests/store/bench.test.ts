/** What is on the bench, from the index alone: whose, why, waiting for parts; and as many statements for 2,000 pages as for three. */
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import type { JobSigns } from '@/lib/notebook/job-state';
import type { Copy } from '@/lib/notebook/writeup/copy';
import { benchJobs } from '@/lib/search/bench';
import { assignJob, getJob, setAside } from '@/lib/store/jobs';
import { putDesign, putMachine } from '@/lib/store/machines';
import { putCatalogue } from '@/lib/store/parts';
import { revokeReport } from '@/lib/store/reports';
import { reportLink, user } from '@/lib/store/schema';
import { writeEntry } from '@/lib/store/stock';
import { sendCopy } from '@/lib/store/write-ups';
import { copyTitled } from '../access/sent';
import { chartOf, design } from './charts';
import { type TestDatabase, testDatabase } from './cluster';

let db: TestDatabase;
beforeEach(async () => {
  db = await testDatabase();
  await db.database.insert(user).values({ id: 'ines', name: 'Ines', email: 'ines@club.example', role: 'editor' });
  await putDesign(design, null, null);
  await putMachine(chartOf('tin-orchard', 'Tin Orchard'), null, null);
});
afterEach(() => db.close());

const signs = (more: Partial<JobSigns> = {}): JobSigns => ({
  tools: 0,
  cause: '',
  place: '',
  remedy: '',
  mended: false,
  proved: false,
  ticks: { done: 0, of: 0 },
  needs: [],
  ...more,
});
/** Pages as the indexer leaves them. */
async function pages(count: number, name: string, job = signs(), state = 'open') {
  const record = JSON.stringify({ by: '', on: '', cause: '', place: '', excerpt: '', wires: [], progress: [], fixes: [], job });
  const { $client } = db.database;
  await $client.query(
    `insert into page (id, machine, day) select $1 || n, 'tin-orchard', date '2026-01-01' + (n % 300) from generate_series(1, $2::int) n`,
    [name, count],
  );
  await $client.query(
    `insert into page_index (page, title, body, state, record) select $1 || n, 'Job ' || n, '', $4, $3::jsonb from generate_series(1, $2::int) n`,
    [name, count, record, state],
  );
}
const states = async () => Object.fromEntries((await benchJobs('on', { limit: 60 })).map((j) => [j.id, j.job.state]));

describe('the bench', () => {
  test('tells each job’s state; what waits for parts goes on as soon as they are there', async () => {
    await putCatalogue(
      { format: 'fettlebook-parts/1', currency: 'GBP', parts: [{ id: 'B-1', name: 'Bulb', kind: 'other', pack: 1 }] },
      null,
      null,
    );
    await pages(1, 'new');
    await pages(1, 'bulbs', signs({ cause: 'diode-open', needs: [{ part: 'B-1', pieces: 3 }] }));
    await pages(1, 'mended', signs({ mended: true }), 'mended');
    await pages(3, 'proved', signs({ mended: true, proved: true }), 'mended');
    expect(await states()).toEqual({ new1: 'reported', bulbs1: 'waiting for parts', mended1: 'to prove' });
    await writeEntry({ kind: 'received', pieces: 3 }, { part: 'B-1', member: 'ines' });
    expect((await states()).bulbs1).toBe('found');
    await writeEntry({ kind: 'reserved', pieces: 1 }, { part: 'B-1', member: 'ines', page: 'new1' });
    expect((await states()).bulbs1).toBe('waiting for parts');
    await setAside('new1', 'The owner is away');
    expect((await states()).new1).toBe('set aside');
    await setAside('new1', null);
    expect((await states()).new1).toBe('reported');
  });

  test('what is mended and proved is off it; it is written up once a copy was sent, also when the link was taken back', async () => {
    await pages(5, 'proved', signs({ mended: true, proved: true }), 'mended');
    await pages(1, 'mended', signs({ mended: true }), 'mended');
    const off = async () => Object.fromEntries((await benchJobs('off', { limit: 60 })).map((j) => [j.id, j.job.state]));
    expect(await off()).toEqual({ proved1: 'proved', proved2: 'proved', proved3: 'proved', proved4: 'proved', proved5: 'proved' });
    const link = { expiresAt: new Date('2999-01-01'), pass: null };
    const sent = (page: string, copy: string, more: Partial<Copy>) =>
      sendCopy(page, copy, copyTitled('Spinner', more), 'ines', { id: `link of ${copy}`, hash: copy, ...link });
    await sent('proved4', 'too early', { proved: false });
    expect((await off()).proved4).toBe('proved'); // before its proof
    await sent('proved4', 'in time', { proved: true });
    await sent('proved5', 'from before that was noted', {});
    await sendCopy('proved1', 'copy1', copyTitled('Proved'), 'ines', { id: 'link1', hash: 'h1', ...link });
    const older = ['proved2', 'proved3'].map((page) => ({ id: `link-${page}`, page, hash: page })); // from before copies were kept
    await db.database.insert(reportLink).values(older);
    expect(await revokeReport('proved1', 'link1')).toBe(true);
    expect(await revokeReport('proved3', 'link-proved3')).toBe(true);
    expect(await off()).toEqual({
      proved1: 'written up',
      proved2: 'written up',
      proved3: 'proved',
      proved4: 'written up',
      proved5: 'written up',
    });
    expect(await states()).toEqual({ mended1: 'to prove' });
  });

  test('a job is given to a member and taken back; the others’ are left out', async () => {
    await pages(2, 'job');
    expect(await assignJob('job2', 'ines')).toBe(true);
    expect(await assignJob('job2', 'nobody-here')).toBe(false);
    expect(await getJob('job2')).toEqual({ assigned: 'ines', aside: null });
    expect((await benchJobs('on', { assigned: 'ines', limit: 60 })).map((j) => [j.id, j.assignee])).toEqual([['job2', 'Ines']]);
    await assignJob('job2', null);
    expect(await benchJobs('on', { assigned: 'ines', limit: 60 })).toEqual([]);
  });

  test('asks the database as often for 2,000 pages as for three, and brings no more than asked for', async () => {
    const query = vi.spyOn(db.database.$client, 'query');
    const asked = async () => {
      query.mockClear();
      const jobs = await benchJobs('on', { limit: 60 });
      return { asked: query.mock.calls.length, jobs: jobs.length };
    };
    await pages(3, 'few');
    const few = await asked();
    await pages(2000, 'many', signs({ needs: [{ part: 'B-1', pieces: 1 }] }));
    const many = await asked();
    expect(few.jobs).toBe(3);
    expect(few.asked).toBeGreaterThan(0);
    expect(many).toEqual({ asked: few.asked, jobs: 60 });
  });
});
