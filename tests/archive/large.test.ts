/** Archives beyond 4 GiB (tests/soak/archive.ts writes one): reading the ZIP64 form (APPNOTE.TXT 6.3.10 § 4.3.14 to 4.3.16, 4.5.3), with a hole of zeros in place of the gigabytes. */
import { Uint8ArrayReader, Uint8ArrayWriter, ZipWriter } from '@zip.js/zip.js';
import { unzipSync } from 'fflate';
import { expect, test } from 'vitest';
import { readArchive } from '@/lib/archive/read';
import { readZip } from '@/lib/archive/zip-read';
import { sourceOf, type ZipSource } from '@/lib/archive/zip-source';
import { zipStream } from '@/lib/archive/zip-stream';

const head = { format: 'fettlebook-archive', version: 3, scope: 'club', club: '', madeAt: '2026-01-02T03:04:05.000Z' } as const;
const files = [
  { path: 'README.md', text: 'Words. '.repeat(500) },
  { path: 'pictures/a/320.jpg', bytes: Uint8Array.from({ length: 3000 }, (_, k) => k % 251) },
];
async function* some() {
  yield* files;
}
const hole = 5 * 1024 ** 3;
const small = Buffer.from(await new Response(zipStream(some(), head)).arrayBuffer());
/** The same files by another writer, which can begin behind a hole. */
async function zipped(before: number): Promise<Buffer> {
  const zip = new ZipWriter(new Uint8ArrayWriter(), { offset: before, useWebWorkers: false });
  for (const [path, bytes] of Object.entries(unzipSync(small))) await zip.add(path, new Uint8ArrayReader(bytes));
  return Buffer.from(await zip.close());
}

/** The bytes as if so many zeros stood before them. */
const behind = (zeros: number, bytes: Buffer): ZipSource => ({
  size: zeros + bytes.length,
  at(from, length) {
    const piece = Buffer.alloc(Math.max(0, Math.min(length, zeros + bytes.length - from)));
    const at = Math.max(0, from - zeros);
    bytes.copy(piece, Math.max(0, zeros - from), at, at + length);
    return piece;
  },
});
const large = await zipped(hole);
const largeEnd = large.lastIndexOf(Buffer.from([0x50, 0x4b, 6, 6]));
const locator = large.lastIndexOf(Buffer.from([0x50, 0x4b, 6, 7]));
const end = large.lastIndexOf(Buffer.from([0x50, 0x4b, 5, 6]));
const directory = large.indexOf(Buffer.from([0x50, 0x4b, 1, 2]));
/** With other bytes at a place. */
const changed = (at: number, write: (bytes: Buffer) => void): Buffer => {
  const bytes = Buffer.from(large);
  write(bytes.subarray(at));
  return bytes;
};

test('what stands behind 5 GiB is in the ZIP64 form, and reads back byte for byte', () => {
  expect([largeEnd, locator, end].every((at) => at > 0)).toBe(true);
  expect(large.readUInt32LE(end + 16)).toBe(0xffffffff); // the place of the directory does not fit
  const source = behind(hole, large);
  const archive = readArchive(source);
  expect(archive.ok && archive.archive.manifest.files.map(({ path }) => path)).toEqual(files.map(({ path }) => path));
  const zip = readZip(source);
  if (!zip.ok) throw new Error(zip.message);
  for (const file of files) {
    const read = zip.entries.get(file.path)?.read();
    expect(read?.ok && Buffer.from(read.bytes)).toEqual(file.text === undefined ? Buffer.from(file.bytes) : Buffer.from(file.text));
  }
});

test('a small one is written without it', () => {
  expect(small.includes(Buffer.from([0x50, 0x4b, 6, 6]))).toBe(false);
  expect(readArchive(sourceOf(small)).ok).toBe(true);
});

test.each<[string, Buffer, string]>([
  ['a locator that points elsewhere', changed(locator + 8, (b) => b.writeBigUInt64LE(BigInt(hole))), 'does not end where'],
  ['no locator', changed(locator, (b) => b.writeUInt32LE(0)), 'does not end where'],
  ['a place that no file has', changed(locator + 8, (b) => b.writeBigUInt64LE(2n ** 63n)), 'does not end where'],
  ['a record of another length', changed(largeEnd + 4, (b) => b.writeBigUInt64LE(45n)), 'does not end where'],
  ['a directory that begins elsewhere', changed(largeEnd + 48, (b) => b.writeBigUInt64LE(1n)), 'does not end where'],
  ['two counts', changed(largeEnd + 32, (b) => b.writeBigUInt64LE(7n)), 'several parts'],
  ['several parts', changed(locator + 16, (b) => b.writeUInt32LE(2)), 'several parts'],
  [
    'more files than there may be',
    changed(largeEnd, (b) => {
      b.writeBigUInt64LE(200_000n, 24);
      b.writeBigUInt64LE(200_000n, 32);
      b.writeUInt16LE(0xffff, end - largeEnd + 8);
      b.writeUInt16LE(0xffff, end - largeEnd + 10);
    }),
    'more than 131072 files',
  ],
  [
    'a file that stands behind the end',
    changed(
      directory,
      placeOf((b) => b.writeBigUInt64LE(2n ** 52n)),
    ),
    'not where the directory says',
  ],
  [
    'a file whose place is missing',
    changed(
      directory,
      extraOf((b) => b.writeUInt16LE(0x7777)),
    ),
    'directory is damaged',
  ],
])('%s is refused', (_, bytes, why) => {
  const read = readZip(behind(hole, bytes));
  expect(read.ok ? 'read' : read.message).toContain(why);
});

/** The extra field no. 1 of the first file in a directory, and the place in it. */
function extraOf(write: (bytes: Buffer) => void) {
  return (entry: Buffer) => {
    let at = 46 + entry.readUInt16LE(28);
    while (entry.readUInt16LE(at) !== 1) at += 4 + entry.readUInt16LE(at + 2);
    write(entry.subarray(at));
  };
}
function placeOf(write: (bytes: Buffer) => void) {
  return extraOf((extra) => write(extra.subarray(4 + extra.readUInt16LE(2) - 8)));
}

test('cut anywhere, or with any byte of its records otherwise, it is refused or says the same; nothing throws', () => {
  for (let length = 0; length < large.length; length++) expect(readArchive(behind(hole, large.subarray(0, length))).ok).toBe(false);
  for (let at = directory; at < large.length; at++)
    for (const other of [0, 0xff]) {
      const read = readArchive(
        behind(
          hole,
          changed(at, (b) => b.writeUInt8(other)),
        ),
      );
      if (read.ok) expect(read.archive.manifest.files.map(({ path }) => path)).toEqual(files.map(({ path }) => path));
    }
});
