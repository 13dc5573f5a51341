/** The club's count of proven fixes: what counts, on which boards, and what takes a fix out again. */
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { writeIndex } from '@/lib/store/facts';
import { fixCounts } from '@/lib/store/fixes';
import { putDesign, putMachine } from '@/lib/store/machines';
import { createPage, removePage } from '@/lib/store/pages';
import type { FixEntry } from '@/lib/store/types';
import { chartOf, design } from './charts';
import { type TestDatabase, testDatabase } from './cluster';

let db: TestDatabase;
beforeEach(async () => {
  db = await testDatabase();
  await putDesign(design, null, null);
  await putDesign({ ...design, id: 'SB-8' }, null, null);
  await putMachine(chartOf('orchard', 'Tin Orchard'), null, null);
  await putMachine(chartOf('regatta', 'Lantern Regatta'), null, null);
  await putMachine({ ...chartOf('kestrel', 'Kestrel Post'), design: 'SB-8' }, null, null);
  await createPage({ id: 'here', machineId: 'orchard', member: null, update: Uint8Array.of(0, 0) });
});
afterEach(() => db.close());

let made = 0;
const proven = { cause: 'worn-contact', outcome: 'mended', on: '2024-03-01', circuits: ['46'], proved: true };
/** A page with these fix records, indexed; its id. */
async function page(fixes: Partial<FixEntry>[], machine: string | null = 'orchard', day = '2024-01-01') {
  const id = `page-${++made}`;
  await createPage({ id, machineId: machine, member: null, on: day, update: Uint8Array.of(0, 0) });
  const record = { fixes: fixes.map((fix) => ({ ...proven, ...fix })) };
  const on = machine === 'kestrel' ? 'SB-8' : machine && 'SB-9';
  await writeIndex(id, { title: id, body: id, state: 'mended', record, facts: [], machine, design: on });
  return id;
}

describe('a fix counts', () => {
  test('when it is mended, has a proof and a cause of ours', async () => {
    await page([{}, { cause: 'driver', circuits: ['12'] }]);
    await page([{ outcome: 'watching' }, { outcome: 'open' }, { outcome: 'not-found' }], 'regatta');
    await page([{ proved: false }], 'regatta', '2024-09-01');
    await page([{ cause: 'gremlins' }, { cause: 'not-found' }], 'regatta');
    expect(await fixCounts('here')).toEqual({ 'worn-contact': 1, driver: 1 });
  });

  test('not on the page itself, not on one that was removed, not on a note; and a page without a machine has no record', async () => {
    const own = await page([{}]);
    const gone = await page([{}], 'regatta');
    await page([{}], null);
    expect(await fixCounts('here')).toEqual({ 'worn-contact': 2 });
    await removePage(gone, null);
    expect(await fixCounts('here')).toEqual({ 'worn-contact': 1 });
    expect(await fixCounts(own)).toEqual({});
    expect(await fixCounts(await page([], null))).toEqual({});
    expect(await fixCounts('nowhere')).toEqual({});
  });

  test('of pages that were indexed before records kept fixes, none', async () => {
    const old = await page([]);
    await writeIndex(old, {
      title: 'Old',
      body: '',
      state: 'mended',
      record: { by: 'Ines' },
      facts: [],
      machine: 'orchard',
      design: 'SB-9',
    });
    expect(await fixCounts('here')).toEqual({});
  });
});

describe('the same fault again', () => {
  const later = (day: string, change: Partial<FixEntry> = {}, machine = 'orchard') =>
    page([{ outcome: 'open', on: day, proved: false, ...change }], machine);
  beforeEach(() => page([{ circuits: ['46', '26'] }]));
  // 2024-03-01 + 90 days is 2024-05-30: 30 in March, 30 in April, 30 in May.
  test.each([
    ['90 days later takes it out', '2024-05-30', {}, 'orchard', false],
    ['91 days later is a fault of its own', '2024-05-31', {}, 'orchard', true],
    ['before it was no recurrence', '2024-02-28', {}, 'orchard', true],
    ['of another class', '2024-03-20', { cause: 'driver' }, 'orchard', true],
    ['on other circuits', '2024-03-20', { circuits: ['47'] }, 'orchard', true],
    ['on one circuit of two', '2024-03-20', { circuits: ['26', '31'] }, 'orchard', false],
    ['on another machine', '2024-03-20', {}, 'regatta', true],
    ['that was looked for and not found', '2024-03-20', { outcome: 'not-found' }, 'orchard', true],
    ['on the same day, written down later', '2024-03-01', {}, 'orchard', false],
  ] as [string, string, Partial<FixEntry>, string, boolean][])('%s', async (_, day, change, machine, counts) => {
    await later(day, change, machine);
    expect(await fixCounts('here')).toEqual(counts ? { 'worn-contact': 1 } : {});
  });

  test('mended and proved, counts in place of the first', async () => {
    await later('2024-03-20', { outcome: 'mended', proved: true });
    expect(await fixCounts('here')).toEqual({ 'worn-contact': 1 });
  });

  test('of fixes that name no circuit, goes by class and machine', async () => {
    await page([{ cause: 'supply', circuits: [] }]);
    expect(await fixCounts('here')).toEqual({ 'worn-contact': 1, supply: 1 });
    await later('2024-03-20', { cause: 'supply', circuits: [] });
    expect(await fixCounts('here')).toEqual({ 'worn-contact': 1 });
  });
});

test('without a day of its own a fix is as old as its page', async () => {
  await page([{ on: '' }], 'orchard', '2024-03-01');
  await page([{ outcome: 'open', on: '', proved: false }], 'orchard', '2024-05-31');
  expect(await fixCounts('here')).toEqual({ 'worn-contact': 1 });
  await page([{ outcome: 'open', on: '', proved: false }], 'orchard', '2024-05-30');
  expect(await fixCounts('here')).toEqual({});
});

test('the board design speaks for itself from five fixes on; before that all designs do', async () => {
  await page([{ cause: 'driver' }], 'kestrel');
  const four = ['1', '2', '3', '4'].map((number) => ({ circuits: [number] }));
  await page(four, 'orchard');
  expect(await fixCounts('here')).toEqual({ 'worn-contact': 4, driver: 1 });
  await page([{ circuits: ['5'], cause: 'splice' }], 'regatta');
  expect(await fixCounts('here')).toEqual({ 'worn-contact': 4, splice: 1 });
});
