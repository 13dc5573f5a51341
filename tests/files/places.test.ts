/**
 * The folder and the bucket keep one contract, also with a store that is not ours (s3rver, from npm). That one knows its account, but does
 * not reckon signatures of version 4: these are held against the standard's own examples, by a store of our own.
 */
import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import S3rver from 's3rver';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { bucketPlace } from '@/lib/files/bucket';
import { folderPlace } from '@/lib/files/folder';
import type { FilePlace } from '@/lib/files/place';
import { readSettings } from '@/lib/store/settings';
import { type BucketServer, bucketServer } from './bucket-server';
import { readAuthorization, signatureOf } from './signature';

// Amazon S3 API Reference, “Signature calculations for the Authorization header: examples” (published example keys; from memory,
// the signatures compared with public test suites).
const secret = 'wJalrXUtnFEMI/K7MDENG/bPxRfiCYEXAMPLEKEY';
const nothing = 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855';
test('the checking server signs the published examples as they are published', () => {
  const at = { 'x-amz-date': '20130524T000000Z', host: 'examplebucket.s3.amazonaws.com' };
  const scope = { day: '20130524', region: 'us-east-1', service: 's3' };
  const get = { method: 'GET', path: '/test.txt', query: '', headers: { ...at, range: 'bytes=0-9', 'x-amz-content-sha256': nothing } };
  const signed = ['host', 'range', 'x-amz-content-sha256', 'x-amz-date'];
  expect(signatureOf(get, secret, { ...scope, signed })).toBe('f0e8bdb87c964420e857bd35b5d6ed310bd44f0170aba48dd91039c6036bdb41');
  const put = {
    method: 'PUT',
    path: '/test%24file.text',
    query: '',
    headers: {
      ...at,
      date: 'Fri, 24 May 2013 00:00:00 GMT',
      'x-amz-content-sha256': '44ce7dd67c959e0d3524ffac1771dfbba87d2b6b4b4e99e42034a8b803f8b072',
      'x-amz-storage-class': 'REDUCED_REDUNDANCY',
    },
  };
  const signedPut = ['date', 'host', 'x-amz-content-sha256', 'x-amz-date', 'x-amz-storage-class'];
  expect(signatureOf(put, secret, { ...scope, signed: signedPut })).toBe(
    '98ad721746da40c64f1a55b78f14c238d841ea1380cd77a1b5971af0ece108bd',
  );
  expect(readAuthorization('AWS4-HMAC-SHA1 Credential=x')).toBeNull();
});

const who = { key: 'INVENTEDKEY', secret: 'an invented secret/with+signs', region: 'eu-invented-1' };
let server: BucketServer;
let folder: string;
let theirs: { server: S3rver; folder: string; address: string };
const known = { key: 'S3RVER', secret: 'S3RVER', region: 'us-east-1' }; // the one account that it has
beforeAll(async () => {
  server = await bucketServer(who);
  folder = mkdtempSync(join(tmpdir(), 'fettlebook-files-'));
  const directory = mkdtempSync(join(tmpdir(), 'fettlebook-store-'));
  const store = new S3rver({
    port: 0,
    address: '127.0.0.1',
    silent: true,
    directory,
    configureBuckets: [{ name: 'pictures', configs: [] }],
  });
  const { port } = await store.run();
  theirs = { server: store, folder: directory, address: `http://127.0.0.1:${port}/pictures` };
});
afterAll(async () => {
  await server.close();
  await theirs.server.close();
  for (const each of [folder, theirs.folder]) rmSync(each, { recursive: true, force: true });
});
const bytes = Uint8Array.from({ length: 5000 }, (_, at) => at & 255);
const places: [string, () => FilePlace][] = [
  ['a folder', () => folderPlace(folder)],
  ['a bucket', () => bucketPlace({ address: server.address, ...who })],
  ['a bucket of another maker’s store', () => bucketPlace({ address: theirs.address, ...known })],
];

describe.each(places)('%s', (_, open) => {
  test('gives back what it was given, and null for what it was not', async () => {
    const place = open();
    expect(await place.get('aa/none/800.jpg')).toBeNull();
    await place.put('aa/one/800.jpg', bytes, 'image/jpeg');
    expect(await place.get('aa/one/800.jpg')).toEqual(bytes);
    await place.put('aa/one/800.jpg', bytes.slice(1), 'image/jpeg');
    expect(await place.get('aa/one/800.jpg')).toEqual(bytes.slice(1));
    expect(await open().get('aa/one/320.jpg')).toBeNull();
  });

  test('removes, also what is gone already', async () => {
    const place = open();
    await place.put('bb/two/800.jpg', bytes, 'image/jpeg');
    await place.remove('bb/two/800.jpg');
    expect(await place.get('bb/two/800.jpg')).toBeNull();
    await place.remove('bb/two/800.jpg');
  });

  test('takes the same file from several at once', async () => {
    const place = open();
    await Promise.all(Array.from({ length: 8 }, () => place.put('cc/three/800.jpg', bytes, 'image/jpeg')));
    expect(await place.get('cc/three/800.jpg')).toEqual(bytes);
  });
});

test('a folder keeps no half files', () => {
  expect(readdirSync(folder, { recursive: true }).filter((name) => String(name).endsWith('.new'))).toEqual([]);
});

test('every request to a bucket was signed, with the hash of its body, and said the type', () => {
  expect(server.asked.length).toBeGreaterThan(15);
  expect(server.faults).toEqual([]);
  expect(server.files.get('/pictures/cc/three/800.jpg')?.type).toBe('image/jpeg');
});

test('a bucket that stumbles is asked again; one that refuses is named, the secret is not', async () => {
  server.fail(2, 503);
  await bucketPlace({ address: server.address, ...who }).put('dd/four/800.jpg', bytes, 'image/jpeg');
  expect(server.files.has('/pictures/dd/four/800.jpg')).toBe(true);
  const wrong = bucketPlace({ address: server.address, ...who, secret: 'not the secret' });
  const refused = await wrong.put('dd/five/800.jpg', bytes, 'image/jpeg').catch((error: Error) => error.message);
  expect(refused).toContain('answered 403 to PUT dd/five/800.jpg');
  expect(refused).not.toContain('not the secret');
  expect(server.faults).toEqual(['the signature does not fit']);
  const elsewhere = bucketPlace({ address: server.address.replace('/pictures', '/other'), ...who });
  await expect(elsewhere.put('x', bytes, 'image/jpeg')).rejects.toThrow('check FILES_BUCKET');
});

test('another maker’s store keeps the bytes, and refuses a stranger and a bucket that it has not', async () => {
  await bucketPlace({ address: theirs.address, ...known }).put('dd/four/800.jpg', bytes, 'image/jpeg');
  const kept = readdirSync(theirs.folder, { recursive: true }).map(String);
  expect(kept.some((name) => name.includes('four'))).toBe(true);
  const refused = (more: object) =>
    bucketPlace({ address: theirs.address, ...known, ...more })
      .put('dd/five/800.jpg', bytes, 'image/jpeg')
      .catch((error: Error) => error.message);
  expect(await refused({ key: 'STRANGER' })).toMatch(/answered 403 to PUT .*InvalidAccessKeyId/s);
  expect(await refused({ address: theirs.address.replace('/pictures', '/other') })).toContain('check FILES_BUCKET');
});

test('the settings name a bucket whole or not at all', () => {
  expect(readSettings({}).bucket).toBeNull();
  const given = { FILES_BUCKET: 'https://store.club.example/pictures/', FILES_KEY: 'K', FILES_SECRET: 'S' };
  expect(readSettings(given).bucket).toEqual({
    address: 'https://store.club.example/pictures',
    key: 'K',
    secret: 'S',
    region: 'us-east-1',
  });
  expect(() => readSettings({ ...given, FILES_SECRET: '' })).toThrow('FILES_KEY, FILES_SECRET: give both');
  expect(() => readSettings({ ...given, FILES_BUCKET: 'store' })).toThrow('FILES_BUCKET: write the address of a bucket');
});
