/** Files as a ZIP stream, a file or two in memory at a time. The manifest comes last, because it says what went before. */
import { createHash } from 'node:crypto';
import { Readable } from 'node:stream';
import { finished } from 'node:stream/promises';
import { ZipFile } from 'yazl';
import type { Manifest } from './format';
import { limits } from './zip-read';

/** Text is packed; bytes of a picture are packed already. */
export type ArchiveFile = { path: string; text: string } | { path: string; bytes: Uint8Array };

/**
 * Reads `files` only as fast as the stream is taken. Errors of `files` break the stream, so that no archive seems whole that is not. What
 * needs it is written in the ZIP64 form (APPNOTE.TXT 6.3.10 § 4.3.14).
 */
export function zipStream(files: AsyncIterable<ArchiveFile>, head: Omit<Manifest, 'files'>): ReadableStream<Uint8Array> {
  const zip = new ZipFile();
  const out = zip.outputStream as Readable;
  write(zip, files, head).catch((error) => out.destroy(error));
  return Readable.toWeb(out, { strategy: { highWaterMark: 0 } }) as ReadableStream<Uint8Array>;
}

async function write(zip: ZipFile, files: AsyncIterable<ArchiveFile>, head: Omit<Manifest, 'files'>): Promise<void> {
  const out = zip.outputStream as Readable;
  const gone = finished(out);
  gone.catch(() => {}); // heard below, while a file is on its way
  const made: Manifest['files'] = [];
  let all = 0;
  const add = async (path: string, bytes: Uint8Array, compress: boolean) => {
    all += bytes.length;
    if (all > limits.archiveBytes) throw new Error(`an archive holds at most ${limits.archiveBytes / 1024 ** 3} GiB`);
    const held = [bytes];
    const taken = new Promise<void>((resolve, reject) => {
      zip.addReadStreamLazy(path, { mtime: new Date(head.madeAt), compress }, (give) => {
        const piece = Readable.from(held.splice(0), { objectMode: false }); // the library keeps this function until the end, not the bytes
        piece.once('end', resolve).once('error', reject);
        give(null, piece);
      });
    });
    await Promise.race([taken, gone]);
    if (out.destroyed) throw new Error('nobody takes the archive any more');
  };
  for await (const file of files) {
    if (made.length >= limits.files - 1) throw new Error(`an archive holds at most ${limits.files - 1} files`);
    const { path } = file;
    const bytes = 'text' in file ? new TextEncoder().encode(file.text) : file.bytes;
    made.push({ path, bytes: bytes.length, sha256: createHash('sha256').update(bytes).digest('hex') });
    await add(path, bytes, 'text' in file);
  }
  const manifest: Manifest = { ...head, files: made };
  await add('manifest.json', new TextEncoder().encode(`${JSON.stringify(manifest, null, 2)}\n`), true);
  zip.end();
}
