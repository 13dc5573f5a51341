/** Archives that lie. The ZIP format: APPNOTE.TXT 6.3.10 § 4.3; the ways to abuse it: CWE-22, CWE-59, CWE-409. */
import { createHash } from 'node:crypto';
import { strToU8, type Zippable, zipSync } from 'fflate';
import { expect, test } from 'vitest';
import { readArchive } from '@/lib/archive/read';
import { readZip } from '@/lib/archive/zip-read';
import { sourceOf } from '@/lib/archive/zip-source';

const said = (bytes: Uint8Array): string => {
  const read = readArchive(sourceOf(bytes));
  return read.ok ? 'read' : read.message;
};
type Files = Record<string, string | Uint8Array>;
const bytesOf = (file: string | Uint8Array) => (typeof file === 'string' ? strToU8(file) : file);
const manifestOf = (files: Files, more: object = {}) =>
  JSON.stringify({
    format: 'fettlebook-archive',
    version: 1,
    scope: 'club',
    club: 'Ours',
    madeAt: '2026-01-02T03:04:05.000Z',
    files: Object.entries(files).map(([path, file]) => ({
      path,
      bytes: bytesOf(file).length,
      sha256: createHash('sha256').update(bytesOf(file)).digest('hex'),
    })),
    ...more,
  });
const zipped = (files: Files, more: object = {}, extra: Zippable = {}): Uint8Array =>
  zipSync({
    ...Object.fromEntries(Object.entries(files).map(([path, file]) => [path, bytesOf(file)])),
    'manifest.json': strToU8(manifestOf(files, more)),
    ...extra,
  });
const page = (content: unknown, id = 'one') =>
  JSON.stringify({
    id,
    machine: null,
    on: '2026-01-02',
    createdAt: '2026-01-02T03:04:05.000Z',
    createdBy: null,
    changedAt: '2026-01-02T03:04:05.000Z',
    content,
    points: [],
  });
const prose = (text: object) => ({
  doc: { type: 'doc', content: [{ type: 'paragraph', content: [{ type: 'text', ...text }] }] },
  widgets: {},
});
const good: Files = { 'pages/one/page.json': page(prose({ text: 'Words' })), 'pages/one/page.md': 'Words\n' };

test('an honest one is read', () => expect(said(zipped(good))).toBe('read'));

test.each([
  ['../up.txt', 'names a place outside'],
  ['pages/../../up.txt', 'names a place outside'],
  ['/etc/up.txt', 'names a place outside'],
  ['C:up.txt', 'names a place outside'],
  ['a\\b.txt', 'backslash'],
  ['a\u0000b.txt', 'control characters'],
])('a file called %j is refused', (path, why) => expect(said(zipped({ ...good, [path]: 'x' }))).toContain(why));

test('names that differ in case only are one file twice on half of all discs', () =>
  expect(said(zipped({ ...good, 'PAGES/one/page.md': 'x' }))).toContain('twice'));
test('links', () =>
  expect(said(zipped(good, {}, { 'link.txt': [strToU8('/etc'), { os: 3, attrs: (0o120777 << 16) >>> 0 }] }))).toContain(
    'a link to another file',
  ));
test('no archive at all, and one without a manifest', () => {
  expect(said(new Uint8Array())).toContain('no ZIP file');
  expect(said(strToU8('<svg onload="x()">'.repeat(10)))).toContain('no ZIP file');
  expect(said(zipSync({ 'a.txt': strToU8('a') }))).toContain('no manifest.json');
});
test('a newer version, another format', () => {
  expect(said(zipped(good, { version: 4 }))).toContain('version 4; up to 3');
  expect(said(zipped(good, { format: 'other' }))).toContain('not that of');
});
test('a write-up that is none', () => {
  const sent = (more: object) => JSON.stringify({ priced: true, lines: [], copies: [], ...more });
  const saidOf = (file: string) => said(zipped({ ...good, 'pages/one/write-up.json': file }));
  expect(saidOf(sent({}))).toBe('read');
  expect(saidOf(sent({ copies: [{ number: 1, copy: '<script>', by: null, at: '2026-01-02T03:04:05.000Z' }] }))).toContain('copies.0.copy');
  expect(saidOf(sent({ lines: [{ key: 'title', words: 'x', price: -1, over: '', by: null, at: '2026-01-02T03:04:05.000Z' }] }))).toContain(
    'lines.0.price',
  );
});
test('cut anywhere, it is refused and nothing throws', () => {
  const whole = zipped(good);
  for (let length = 0; length < whole.length; length++) expect(said(whole.subarray(0, length))).not.toBe('read');
});
test('with any one byte changed it is refused, or reads as before', () => {
  const whole = zipped(good);
  for (let at = 0; at < whole.length; at++) {
    const other = whole.slice();
    other[at] = (other[at] ?? 0) ^ 0x55;
    const read = readArchive(sourceOf(other));
    if (read.ok) expect(read.archive.pages[0]?.content).toEqual(prose({ text: 'Words' }));
  }
});
test('what the manifest does not know, misses, or has otherwise', () => {
  expect(said(zipped(good, {}, { 'more.txt': strToU8('x') }))).toContain('not in its manifest');
  expect(said(zipped(good, { files: [{ path: 'lost.json', bytes: 1, sha256: '0'.repeat(64) }] }))).toContain('“lost.json” is missing');
  expect(said(zipSync({ ...{ 'stock.json': strToU8('[]') }, 'manifest.json': strToU8(manifestOf({ 'stock.json': '[1]' })) }))).toContain(
    'not what the manifest says',
  );
});
test('bombs: by ratio, by size, and by a directory that lies about the size', () => {
  expect(said(zipped({ ...good, 'big.txt': new Uint8Array(8 * 1024 * 1024) }))).toContain('250 times');
  expect(said(zipped({ ...good, 'big.txt': new Uint8Array(33 * 1024 * 1024) }))).toContain('more than 32 MiB');
  const bomb = zipSync({ 'manifest.json': new Uint8Array(20 * 1024 * 1024) });
  const view = new DataView(bomb.buffer, bomb.byteOffset);
  const directory = view.getUint32(bomb.length - 6, true);
  view.setUint32(directory + 24, 1000, true); // the unpacked size, as the directory says
  expect(said(bomb)).toContain('larger than the archive’s directory says');
});
test('two files that share their bytes', () => {
  const twice = zipSync({ 'a.txt': strToU8('aaaa'), 'b.txt': strToU8('aaaa') }, { level: 0 });
  const view = new DataView(twice.buffer, twice.byteOffset);
  const first = view.getUint32(twice.length - 6, true);
  const second = first + 46 + 5;
  view.setUint32(second + 42, 0, true);
  const read = readZip(sourceOf(twice));
  expect(read.ok).toBe(false);
});
test.each<[string, string | Uint8Array, string]>([
  ['bytes that are no UTF-8', Uint8Array.of(0x7b, 0xff, 0x7d), 'not UTF-8'],
  ['no JSON', '{', 'no JSON'],
  ['a page without a day', '{"id":"one"}', 'pages/one/page.json'],
  ['a node of no schema', page({ doc: { type: 'doc', content: [{ type: 'script' }] }, widgets: {} }), 'does not fit this notebook'],
  ['a link that runs something', page(prose({ text: 'x', marks: [{ type: 'link', attrs: { href: 'javascript:x()' } }] })), 'not allowed'],
  [
    'a widget without an id',
    page({ doc: { type: 'doc', content: [{ type: 'widget', attrs: { id: '', kind: 'x' } }] }, widgets: {} }),
    'no proper id',
  ],
])('a page with %s', (_, file, why) => expect(said(zipped({ 'pages/one/page.json': file }))).toContain(why));
test('a page nested a hundred thousand deep', () => {
  const deep = `${'{"type":"blockquote","content":['.repeat(100_000)}${']}'.repeat(100_000)}`;
  const file = page('DEEP').replace('"DEEP"', `{"doc":{"type":"doc","content":[${deep}]},"widgets":{}}`);
  expect(said(zipped({ 'pages/one/page.json': file }))).not.toBe('read');
});
test('one page twice under two folders', () =>
  expect(said(zipped({ ...good, 'pages/two/page.json': page(prose({ text: 'x' })) }))).toContain('twice'));
