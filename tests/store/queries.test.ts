import { sql } from 'drizzle-orm';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { Role } from '@/lib/access/can';
import { endMembership, giveRole } from '@/lib/store/accounts';
import { getSetting, setSetting } from '@/lib/store/club';
import { pagesOfChart, pagesOfDesign, writeIndex } from '@/lib/store/facts';
import { createInvite, inviteByHash, listInvites, revokeInvite } from '@/lib/store/invites';
import { getChartParts, getDesign, getMachine, listDesigns, listMachines, putDesign, putMachine } from '@/lib/store/machines';
import { countMembers, getMember, listMembers } from '@/lib/store/members';
import { countPages, createPage, getPage, listPages, removePage } from '@/lib/store/pages';
import { getCatalogue, putCatalogue } from '@/lib/store/parts';
import { listReports, reportByHash, revokeReport } from '@/lib/store/reports';
import { pageFact, pageIndex, reportLink, session, user } from '@/lib/store/schema';
import { createToken, listTokens, revokeToken, tokenByHash } from '@/lib/store/tokens';
import type { Fact } from '@/lib/widgets/definition';
import { chartOf, design } from './charts';
import { type TestDatabase, testDatabase } from './cluster';

let db: TestDatabase;
beforeEach(async () => {
  db = await testDatabase();
});
afterEach(() => db.close());

const update = Uint8Array.of(0, 0);
const later = new Date('2999-01-01T00:00:00Z');
const member = async (id: string, role: Role = 'editor') => {
  await db.database.insert(user).values({ id, name: `Name of ${id}`, email: `${id}@club.example`, role });
  return id;
};
const orchard = chartOf('tin-orchard', 'Tin Orchard');

describe('machines', () => {
  test('a new one of a name that is taken is refused; of two rivals for one cell, one is kept', async () => {
    expect(await putDesign(design, null, null)).toMatchObject({ ok: true, version: 1 });
    expect(await putMachine(orchard, null, null)).toMatchObject({ ok: true, version: 1, merged: [] });
    expect(await putMachine({ ...orchard, sort: 'another' }, null, null)).toEqual({ ok: false, reason: 'changed', conflicts: [] });
    const rivals = await Promise.all(['no. 1', 'no. 2'].map((unit) => putMachine(chartOf('tin-orchard', 'Tin Orchard', unit), 1, null)));
    expect(rivals.filter((r) => r.ok)).toMatchObject([{ ok: true, version: 2 }]);
    expect(rivals.filter((r) => !r.ok)).toMatchObject([{ ok: false, reason: 'changed', conflicts: [{ label: 'Unit', path: ['unit'] }] }]);
    const kept = await getMachine('tin-orchard');
    expect(kept).toMatchObject({ version: 2, machine: { unit: rivals[0]?.ok ? 'no. 1' : 'no. 2' } });
    expect(await putMachine(chartOf('unknown', 'Unknown'), 1, null)).toEqual({ ok: false, reason: 'changed', conflicts: [] });
  });

  test('are listed by title and read back whole, with their board design', async () => {
    await putDesign(design, null, null);
    await putMachine(orchard, null, null);
    await putMachine(chartOf('lantern-regatta-3', 'Lantern Regatta', 'no. 3'), null, null);
    expect(await listMachines()).toEqual([
      { id: 'lantern-regatta-3', title: 'Lantern Regatta, no. 3', sort: 'test machine', design: 'SB-9', version: 1 },
      { id: 'tin-orchard', title: 'Tin Orchard', sort: 'test machine', design: 'SB-9', version: 1 },
    ]);
    expect(await listDesigns()).toEqual([{ id: 'SB-9', name: 'Test board', version: 1 }]);
    expect(await getDesign('SB-9')).toEqual({ design, version: 1 });
    expect(await getChartParts('tin-orchard')).toEqual({ machine: orchard, design });
    expect(await getChartParts('nowhere')).toBeNull();
    expect(await putDesign({ ...design, name: 'Renamed' }, 1, null)).toMatchObject({ ok: true, version: 2 });
    expect((await getChartParts('tin-orchard'))?.design.name).toBe('Renamed');
  });

  test('a board design that is unknown is refused loudly', async () => {
    await expect(putMachine(orchard, null, null)).rejects.toThrow();
    expect(await listMachines()).toEqual([]);
  });
});

describe('pages', () => {
  test('are listed last change first, by machine and state, and counted', async () => {
    const ines = await member('ines');
    await putDesign(design, null, null);
    await putMachine(orchard, null, null);
    const first = await createPage({ id: 'firstpage234', machineId: 'tin-orchard', member: ines, on: '2024-02-29', update });
    const note = await createPage({ machineId: null, member: ines, update });
    const second = await createPage({ machineId: 'tin-orchard', member: null, update });
    expect(first).toMatchObject({ id: 'firstpage234', machineId: 'tin-orchard', createdBy: 'ines', on: '2024-02-29' });
    expect(note.id).toMatch(/^[a-z2-7]{12}$/);
    expect((await listPages()).map((p) => p.id)).toEqual([second.id, note.id, first.id]);
    await writeIndex(first.id, {
      title: 'Spinner',
      body: '',
      state: 'mended',
      record: {},
      facts: [],
      machine: 'tin-orchard',
      design: 'SB-9',
    });
    expect(await getPage(first.id)).toMatchObject({ title: 'Spinner', state: 'mended' });
    expect((await listPages({ machineId: 'tin-orchard', state: 'open' })).map((p) => p.id)).toEqual([second.id]);
    expect((await listPages({ machineId: 'tin-orchard', limit: 1 })).map((p) => p.id)).toEqual([second.id]);
    expect(await countPages()).toEqual({ 'tin-orchard': { open: 1, mended: 1 } });
    expect(await removePage(second.id, ines)).toBe(true);
    expect(await removePage(second.id, ines)).toBe(false);
    expect(await getPage(second.id)).toBeNull();
    expect(await countPages()).toEqual({ 'tin-orchard': { open: 0, mended: 1 } });
  });

  test('an unknown machine or a taken id makes no page and no entry', async () => {
    await expect(createPage({ machineId: 'nowhere', member: null, update })).rejects.toThrow();
    await createPage({ id: 'same', machineId: null, member: null, update });
    await expect(createPage({ id: 'same', machineId: null, member: null, update })).rejects.toThrow();
    expect((await db.database.$client.query('select page from page_update')).rows).toEqual([{ page: 'same' }]);
  });
});

describe('parts', () => {
  test('the catalogue begins empty and is changed only from the version that was seen', async () => {
    const begin = await getCatalogue();
    expect(begin).toEqual({ catalogue: { format: 'fettlebook-parts/1', currency: 'GBP', parts: [] }, version: null });
    const one = { ...begin.catalogue, parts: [{ id: 'B-1', name: 'Bulb', kind: 'other' as const, pack: 1 }] };
    expect(await putCatalogue(one, begin.version, null)).toEqual({ ok: true, version: 1 });
    expect(await putCatalogue(begin.catalogue, begin.version, null)).toEqual({ ok: false, reason: 'changed' });
    expect(await putCatalogue(begin.catalogue, 7, null)).toEqual({ ok: false, reason: 'changed' });
    expect(await getCatalogue()).toEqual({ catalogue: one, version: 1 });
    expect(await putCatalogue(begin.catalogue, 1, null)).toMatchObject({ ok: true, version: 2 });
  });
});

describe('members', () => {
  test('a removed member loses sessions and tokens, and keeps the name', async () => {
    await member('ines', 'owner');
    await member('tomas');
    await createToken({ hash: 'h1', name: 'script', member: 'tomas' });
    await db.database.insert(session).values({ id: 's', userId: 'tomas', token: 't', expiresAt: later });
    expect(await giveRole('tomas', 'owner')).toBe('done');
    expect(await endMembership('tomas')).toBe('done');
    expect(await endMembership('tomas')).toBe('absent');
    expect(await giveRole('tomas', 'editor')).toBe('absent');
    expect(await giveRole('nobody', 'editor')).toBe('absent');
    expect(await db.database.$count(session)).toBe(0);
    expect(await tokenByHash('h1')).toBeNull();
    expect((await listMembers()).map((m) => m.id)).toEqual(['ines']);
    expect(await getMember('tomas')).toMatchObject({ name: 'Name of tomas', removedAt: expect.stringMatching(/^\d{4}-/) });
    expect(await getMember('ines')).toMatchObject({ role: 'owner', removedAt: null });
    expect(await countMembers()).toBe(2);
  });
});

/** Pages with a fact, as a search joins them. */
async function pagesWithFact(kind: string, value: string): Promise<string[]> {
  const { rows } = await db.database.execute<{ page: string }>(
    sql`select f.page from page_fact f join page p on p.id = f.page and p.removed_at is null where f.kind = ${kind} and f.value = ${value} order by f.page`,
  );
  return rows.map((r) => r.page);
}

describe('invites', () => {
  test('one that has run out or was taken back is good for nothing and not listed', async () => {
    await createInvite({ hash: 'late', role: 'reader', createdBy: null, expiresAt: new Date('2020-01-01T00:00:00Z') });
    const back = await createInvite({ hash: 'back', role: 'reader', createdBy: null, expiresAt: later });
    const good = await createInvite({ hash: 'good', role: 'owner', createdBy: await member('ines'), expiresAt: later });
    expect(await revokeInvite(back.id)).toBe(true);
    expect(await revokeInvite(back.id)).toBe(false);
    for (const hash of ['late', 'back', 'unknown']) expect(await inviteByHash(hash)).toBeNull();
    expect(await listInvites()).toEqual([good]);
    expect(await inviteByHash('good')).toEqual(good);
    expect(good).toMatchObject({ role: 'owner', createdBy: 'ines', expiresAt: later.toISOString() });
  });
});

describe('tokens and report links', () => {
  test('a token is found by its hash until its member ends it; nobody else can', async () => {
    await member('ines');
    await member('tomas');
    const token = await createToken({ hash: 'h', name: 'export', member: 'ines' });
    expect(await tokenByHash('h')).toEqual(token);
    expect(await listTokens('tomas')).toEqual([]);
    expect(await revokeToken(token.id, 'tomas')).toBe(false);
    expect(await tokenByHash('h')).toEqual(token);
    expect(await revokeToken(token.id, 'ines')).toBe(true);
    expect([await tokenByHash('h'), await listTokens('ines')]).toEqual([null, []]);
  });

  test('a report link is found by its hash until it is ended or its page is removed', async () => {
    const page = await createPage({ machineId: null, member: null, update });
    await db.database.insert(reportLink).values([
      { id: 'first', page: page.id, hash: 'a' },
      { id: 'second', page: page.id, hash: 'b' },
    ]);
    expect((await listReports(page.id)).map((r) => r.id).sort()).toEqual(['first', 'second']);
    expect(await revokeReport('another page', 'first')).toBe(false);
    expect(await revokeReport(page.id, 'first')).toBe(true);
    expect(await revokeReport(page.id, 'first')).toBe(false);
    expect(await reportByHash('a')).toBeNull();
    expect(await reportByHash('b')).toEqual((await listReports(page.id)).find((r) => r.id === 'second'));
    await removePage(page.id, null);
    expect(await reportByHash('b')).toBeNull();
  });
});

describe('facts', () => {
  const wire: Fact = { kind: 'wire', value: 'grey/orange', label: 'grey/orange' };
  const pin: Fact = { kind: 'pin', value: 'A3J4-7', label: 'A3J4-7' };
  const entry = {
    title: 'Spinner dead',
    body: 'Cracked joint behind the spinner',
    state: 'open' as const,
    record: { a: 1 },
    machine: 'm1',
    design: 'SB-2',
  };

  test('are replaced as a whole, and found by kind and value', async () => {
    const [one, two] = [
      await createPage({ machineId: null, member: null, update }),
      await createPage({ machineId: null, member: null, update }),
    ];
    await writeIndex(one.id, { ...entry, facts: [wire, pin, wire] });
    await writeIndex(two.id, { ...entry, machine: null, facts: [wire] });
    expect(await pagesWithFact('wire', 'grey/orange')).toEqual([one.id, two.id].sort());
    await writeIndex(one.id, { ...entry, title: 'Renamed', design: 'SB-1', facts: [pin] });
    expect(await pagesWithFact('wire', 'grey/orange')).toEqual([two.id]);
    expect(await pagesWithFact('pin', 'A3J4-7')).toEqual([one.id]);
    expect(await pagesWithFact('header', 'A3J4-7')).toEqual([]);
    expect([await pagesOfChart('m1'), await pagesOfDesign('SB-1'), await pagesOfDesign('SB-2')]).toEqual([[one.id], [one.id], [two.id]]);
    await removePage(two.id, null);
    expect(await pagesWithFact('wire', 'grey/orange')).toEqual([]);
  });

  test('two writers of one page at once leave the facts of one of them', async () => {
    const { id } = await createPage({ machineId: null, member: null, update });
    for (let round = 0; round < 10; round += 1) {
      await Promise.all([
        writeIndex(id, { ...entry, title: 'wire', facts: [wire] }),
        writeIndex(id, { ...entry, title: 'pin', facts: [pin] }),
      ]);
      const [index] = await db.database.select({ title: pageIndex.title }).from(pageIndex);
      expect(await db.database.select({ kind: pageFact.kind }).from(pageFact)).toEqual([{ kind: index?.title }]);
    }
  });

  test('the words column finds stems, the title before the body', async () => {
    const { id } = await createPage({ machineId: null, member: null, update });
    await writeIndex(id, { ...entry, facts: [] });
    const found = "select page, words::text as words from page_index where words @@ to_tsquery('english', 'spinners & crack')";
    expect((await db.database.$client.query(found)).rows).toEqual([{ page: id, words: expect.stringMatching(/'spinner':1A/) }]);
  });
});

test('settings of the club are kept by key', async () => {
  expect(await getSetting('club.name')).toBeNull();
  await setSetting('club.name', 'A');
  await setSetting('club.name', 'Saltmarsh Coin-Op Club');
  expect(await getSetting('club.name')).toBe('Saltmarsh Coin-Op Club');
});
