/** Files as a ZIP stream, one file in memory at a time. The manifest comes last, because it says what went before. */
import { createHash } from 'node:crypto';
import { Zip, ZipDeflate, ZipPassThrough } from 'fflate';
import type { Manifest } from './format';

/** Text is packed; bytes of a picture are packed already. */
export type ArchiveFile = { path: string; text: string } | { path: string; bytes: Uint8Array };

// What a ZIP directory without extensions can count, and the manifest.
const mostFiles = 65_534;
const mostBytes = 0xffff_ffff;

/** Reads `files` only as fast as the stream is taken. Errors of `files` break the stream, so that no archive seems whole that is not. */
export function zipStream(files: AsyncIterable<ArchiveFile>, head: Omit<Manifest, 'files'>): ReadableStream<Uint8Array> {
  const chunks = zipChunks(files, head);
  return new ReadableStream<Uint8Array>(
    {
      async pull(controller) {
        const { done, value } = await chunks.next();
        if (done) controller.close();
        else controller.enqueue(value);
      },
      async cancel() {
        await chunks.return();
      },
    },
    { highWaterMark: 0 },
  );
}

async function* zipChunks(files: AsyncIterable<ArchiveFile>, head: Omit<Manifest, 'files'>): AsyncGenerator<Uint8Array, void, void> {
  const made: Manifest['files'] = [];
  let ready: Uint8Array[] = [];
  let failed: Error | null = null;
  const zip = new Zip((error, chunk) => {
    if (error) failed = error;
    else if (chunk.length > 0) ready.push(chunk);
  });
  let all = 0;
  const add = (path: string, bytes: Uint8Array, packed = false) => {
    const entry = packed ? new ZipPassThrough(path) : new ZipDeflate(path, { level: 6 });
    entry.mtime = head.madeAt;
    zip.add(entry);
    entry.push(bytes, true);
    if (failed) throw failed;
    const out = ready;
    ready = [];
    all += out.reduce((sum, chunk) => sum + chunk.length, 0);
    if (all > mostBytes) throw new Error('an archive holds at most 4 GiB');
    return out;
  };
  for await (const file of files) {
    if (made.length >= mostFiles) throw new Error(`an archive holds at most ${mostFiles} files`);
    const { path } = file;
    const bytes = 'text' in file ? new TextEncoder().encode(file.text) : file.bytes;
    made.push({ path, bytes: bytes.length, sha256: createHash('sha256').update(bytes).digest('hex') });
    yield* add(path, bytes, 'bytes' in file);
  }
  const manifest: Manifest = { ...head, files: made };
  yield* add('manifest.json', new TextEncoder().encode(`${JSON.stringify(manifest, null, 2)}\n`));
  zip.end();
  yield* ready;
}
