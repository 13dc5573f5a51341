/**
 * Archives as large as clubs get: 4.6 GiB of pictures, then 70,000 files, really written to the disk and read again, each file held against
 * the manifest; by Python’s zipfile too, where there is one. Pictures are noise here: only their bytes count.
 */
import { spawnSync } from 'node:child_process';
import { createHash, randomBytes } from 'node:crypto';
import { createWriteStream, mkdtempSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { readArchive } from '@/lib/archive/read';
import { readZip } from '@/lib/archive/zip-read';
import { fileSource } from '@/lib/archive/zip-source';
import { type ArchiveFile, zipStream } from '@/lib/archive/zip-stream';

const head = { format: 'fettlebook-archive', version: 3, scope: 'club', club: 'Large', madeAt: '2026-01-02T03:04:05.000Z' } as const;
const mib = 1024 ** 2;

async function* pictures(): AsyncGenerator<ArchiveFile> {
  const noise = randomBytes(31 * mib);
  for (let n = 0; n < 152; n++) {
    const bytes = Buffer.from(noise);
    bytes.writeUInt32LE(n); // no two are alike
    yield { path: `pictures/${n}/3200.jpg`, bytes };
  }
}
async function* many(): AsyncGenerator<ArchiveFile> {
  for (let n = 0; n < 70_000; n++) yield { path: `pictures/${n}/320.jpg`, bytes: Buffer.from(`picture ${n}`) };
}

export async function main(): Promise<boolean> {
  const folder = mkdtempSync(join(tmpdir(), 'fettlebook-large-'));
  try {
    return (
      (await holds('4.6 GiB', join(folder, 'large.zip'), pictures())) && (await holds('70,000 files', join(folder, 'many.zip'), many()))
    );
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

async function holds(what: string, path: string, files: AsyncIterable<ArchiveFile>): Promise<boolean> {
  const began = performance.now();
  await pipeline(Readable.fromWeb(zipStream(files, head) as never), createWriteStream(path));
  const written = performance.now();
  const source = fileSource(path);
  const [archive, zip] = [readArchive(source), readZip(source)];
  let wrong = 0;
  if (archive.ok && zip.ok)
    for (const { path: name, bytes, sha256 } of archive.archive.manifest.files) {
      const read = zip.entries.get(name)?.read();
      const same = read?.ok && read.bytes.length === bytes && createHash('sha256').update(read.bytes).digest('hex') === sha256;
      if (!same) wrong++;
    }
  const ended = performance.now();
  const python = spawnSync('python3', ['-c', 'import sys, zipfile; print(zipfile.ZipFile(sys.argv[1]).testzip())', path], {
    encoding: 'utf8',
  });
  const other = python.error ? 'not there' : python.stdout.trim() || python.stderr.trim();
  const count = archive.ok ? archive.archive.manifest.files.length : 0;
  const good = archive.ok && zip.ok && wrong === 0 && (other === 'None' || other === 'not there');
  console.log(
    JSON.stringify({
      soak: 'archive',
      what,
      bytes: statSync(path).size,
      files: count,
      wrong: archive.ok ? wrong : archive.message,
      python: other,
      writeSeconds: Math.round((written - began) / 1000),
      readSeconds: Math.round((ended - written) / 1000),
      memoryMiB: Math.round(process.memoryUsage().rss / mib),
      holds: good,
    }),
  );
  return good;
}
