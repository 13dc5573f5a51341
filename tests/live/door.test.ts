/** Who gets in, and who is put out. */
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import {
  closeForbidden,
  closeReload,
  closeRestart,
  closeSignedOut,
  closeTryAgain,
  closeUnknownPage,
  messageSync,
} from '@/lib/live/protocol';
import { FakeLog, type House, startHouse, textOf, until, write } from './helpers';

let house: House;
let log: FakeLog;
beforeEach(async () => {
  vi.spyOn(console, 'error').mockImplementation(() => {});
  log = new FakeLog('page');
  house = await startHouse(log);
});
afterEach(async () => {
  await house.stop();
  vi.restoreAllMocks();
});

// Without an Origin check any site could open a socket with the member's cookie (OWASP ASVS 5.0, 4.4.2; CWE-1385).
it.each(['https://evil.example', '', 'null'])('refuses the origin %j before the upgrade', async (origin) => {
  const raw = house.raw('page', 'ada', { origin });
  await until('refused', () => raw.refused !== null);
  expect(raw.refused).toBe(403);
});

it('refuses who is not signed in, and sends not a byte of the page', async () => {
  await house.live.change('page', 'ada', (doc) => write(doc, 'secret'));
  for (const member of [null, 'stranger']) {
    const raw = house.raw('page', member);
    expect(await raw.end()).toBe(closeSignedOut);
    expect(raw.received).toEqual([]);
  }
});

it('refuses a page that does not exist and makes no room for it', async () => {
  const raw = house.raw('nopage', 'ada');
  expect(await raw.end()).toBe(closeUnknownPage);
  expect(house.live.counts().rooms).toBe(0);
  await expect(house.live.change('nopage', 'ada', () => {})).rejects.toThrow('no page');
  await expect(house.live.read('nopage', () => 1)).rejects.toThrow('no page');
  expect(house.live.counts().rooms).toBe(0);
});

it.each(['../page', 'a'.repeat(65), 'page%2f', ''])('refuses the page id %j', async (id) => {
  const raw = house.raw(id, 'ada');
  await until('over', () => raw.refused !== null || raw.closed !== null);
  expect(raw.refused ?? raw.closed!.code).not.toBe(101);
  expect(raw.received).toEqual([]);
  expect(house.live.counts().rooms).toBe(0);
});

it.each(['0', '2', '', '1x'])('tells an editor of schema %j to reload', async (schema) => {
  const raw = house.raw('page', 'ada', { schema });
  expect(await raw.end()).toBe(closeReload);
  expect(raw.closed!.reason).toBe('reload');
  expect(raw.received).toEqual([]);
});

it('lets one member have 20 sockets, and no more', async () => {
  const raws = await Promise.all(Array.from({ length: 20 }, () => house.raw('page', 'ada').greeted()));
  expect(raws.every((r) => r.open)).toBe(true);
  expect(await house.raw('page', 'ada').end()).toBe(closeTryAgain);
  expect((await house.raw('page', 'ben').greeted()).open).toBe(true);
});

it('closes all sockets of a member at once, and only theirs', async () => {
  const ada = house.open('page', 'ada');
  const ben = house.open('page', 'ben');
  await until('both open', () => ada.everSynced() && ben.everSynced());
  const raw = await house.raw('page', 'ada').greeted();
  house.live.closeMember('ada');
  expect(await raw.end()).toBe(closeSignedOut);
  await until('refused', () => ada.saved.getSnapshot().state === 'refused');
  expect(ada.saved.getSnapshot().reason).toContain('signed out');
  expect(ben.provider.wsconnected).toBe(true);
});

it('closes sockets whose right has gone, within the sweep, without being told', async () => {
  const ada = house.open('page', 'ada');
  const ben = house.open('page', 'ben');
  await until('both open', () => ada.everSynced() && ben.everSynced());
  house.members.delete('ada');
  await until('refused', () => ada.saved.getSnapshot().state === 'refused', 5000); // the promise to members is 5 s
  write(ben.doc, 'after');
  await until('ben saved', () => log.text('page') === 'after');
  expect(textOf(ada.doc)).toBe('');
});

it('a member who may only read from now on is stopped at the next edit', async () => {
  const ada = house.open('page', 'ada');
  await until('open', () => ada.everSynced());
  house.members.set('ada', { name: 'Ada Marsh', write: false });
  await house.live.recheck();
  expect(ada.provider.wsconnected).toBe(true);
  write(ada.doc, 'no');
  await until('refused', () => ada.saved.getSnapshot().state === 'refused');
  expect(ada.saved.getSnapshot()).toMatchObject({ kept: 1 });
  expect(log.text('page')).toBe('');
});

it('a page that has been removed closes, and what it had to save does not linger', async () => {
  const ada = house.open('page', 'ada');
  await until('open', () => ada.everSynced());
  log.fails = () => true;
  write(ada.doc, 'x');
  await until('tried', () => log.appends > 0 && house.live.counts().unsavedBytes > 0);
  log.pages.delete('page');
  house.live.closePage('page');
  await until('refused', () => ada.saved.getSnapshot().state === 'refused');
  expect(ada.saved.getSnapshot().reason).toContain('removed');
  expect(house.live.counts()).toMatchObject({ rooms: 0, unsavedBytes: 0 });
});

it('on a stop, everything taken is saved and the clients are told to come back', async () => {
  const raw = await house.raw('page', 'ben').greeted();
  const ada = house.open('page', 'ada');
  await until('open', () => ada.everSynced());
  log.commits.shut();
  write(ada.doc, 'last words');
  await until('the log is asked', () => log.appends === 1);
  const closing = house.live.close();
  let answered = false;
  raw.socket.once('pong', () => {
    answered = true;
  });
  raw.socket.ping();
  await until('the line has been used', () => answered || raw.closed !== null);
  expect(raw.open).toBe(true); // not closed while something is unsaved
  log.commits.lift();
  await closing;
  expect(await raw.end()).toBe(closeRestart);
  expect(log.text('page')).toBe('last words');
  const late = house.raw('page', 'ada');
  await until('refused', () => late.refused !== null);
  expect(late.refused).toBe(503);
});

it('a check that fails closes nobody at first and lets nobody in', async () => {
  const raw = await house.raw('page', 'ada').greeted();
  const has = vi.spyOn(log.pages, 'has').mockImplementation(() => {
    throw new Error('database away');
  });
  await house.live.recheck();
  expect(raw.open).toBe(true);
  const late = house.raw('page', 'ben');
  await until('refused', () => late.refused !== null);
  expect(late.refused).toBe(503);
  expect(raw.of(messageSync).length).toBe(1);
  has.mockRestore();
  house.members.set('ada', { name: 'Ada', write: false });
  log.pages.delete('page');
  await house.live.recheck();
  expect([closeUnknownPage, closeForbidden]).toContain(await raw.end());
});

it('a socket whose right could not be checked for 15 s is closed, to come back when it can be', async () => {
  const raw = await house.raw('page', 'ada').greeted();
  const has = vi.spyOn(log.pages, 'has').mockImplementation(() => {
    throw new Error('database away');
  });
  const now = performance.now.bind(performance);
  vi.spyOn(performance, 'now').mockImplementation(() => now() + 16_000);
  expect(await raw.end()).toBe(closeTryAgain);
  has.mockRestore();
});
