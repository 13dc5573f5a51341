/** A reader reads. Neither the screen nor a raw socket lets a reader write. */

import * as encoding from 'lib0/encoding';
import { WebSocket } from 'ws';
import * as sync from 'y-protocols/sync';
import * as Y from 'yjs';
import { contentRoot, messageSync, schemaVersion } from '@/lib/live/protocol';
import { expect, openPage, startWriting, test } from './fixtures';

const story = 'Spinner misses counts when warm';

test('a reader sees the page live and cannot write by the screen', async ({ as, server }) => {
  const [priya, ines] = await Promise.all([as('priya'), as('ines')]);
  await openPage(priya, server.url, 'Bench rules');
  await expect(priya.getByRole('link', { name: 'Write', exact: true })).toHaveCount(0);
  await priya.getByRole('link', { name: 'Watch live' }).click();
  const sheet = priya.locator('.ProseMirror');
  await expect(sheet).toHaveAttribute('contenteditable', 'false');
  await expect(priya.locator('.saved')).toContainText('Reading only');
  await openPage(ines, server.url, 'Bench rules');
  await startWriting(ines);
  await ines.locator('.ProseMirror > p').last().click();
  await ines.keyboard.press('End');
  await ines.keyboard.type(' seen by a reader');
  await expect(sheet).toContainText('seen by a reader');
  await expect(priya.getByRole('button', { name: 'Add to this page' })).toHaveCount(0);
  for (const path of ['/pages/new']) {
    const answer = await priya.request.get(server.url + path);
    expect(answer.status()).toBe(404);
  }
});

test('a reader cannot write by a raw socket', async ({ as, server }) => {
  const priya = await as('priya');
  await openPage(priya, server.url, story);
  const id = new URL(priya.url()).pathname.split('/').pop() ?? '';
  const cookie = (await priya.context().cookies()).map((c) => `${c.name}=${c.value}`).join('; ');
  const before = await (await priya.request.get(`${server.url}/api/pages/${id}`)).json();

  const doc = new Y.Doc();
  const paragraph = new Y.XmlElement('paragraph');
  paragraph.insert(0, [new Y.XmlText('forged')]);
  doc.getXmlFragment(contentRoot).insert(0, [paragraph]);
  const frame = encoding.createEncoder();
  encoding.writeVarUint(frame, messageSync);
  sync.writeUpdate(frame, Y.encodeStateAsUpdate(doc));

  const code = await new Promise<number>((resolve, reject) => {
    const socket = new WebSocket(`${server.url.replace('http', 'ws')}/live/${id}?schema=${schemaVersion}`, {
      headers: { cookie, origin: server.url },
    });
    socket.on('open', () => socket.send(encoding.toUint8Array(frame)));
    socket.on('close', resolve);
    socket.on('error', reject);
  });
  expect(code).toBe(4403);
  const after = await (await priya.request.get(`${server.url}/api/pages/${id}`)).json();
  expect(after.markdown).toBe(before.markdown);
  expect(after.markdown).not.toContain('forged');
  const put = await priya.request.put(`${server.url}/api/pages/${id}`, { data: { markdown: '# forged' }, headers: { origin: server.url } });
  expect(put.status()).toBe(403);
});
