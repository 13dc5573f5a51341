/** Pictures whole: from the bytes that came to the files and the row, and back to the bytes that are shown. */
import { createHash } from 'node:crypto';
import { deletePicture, getPicture, noteRemoved, type PictureRow, putPicture } from '@/lib/store/pictures';
import { type Extent, extentAt, servedSize, sizesOf } from './limits';
import { filePlace } from './place';
import { plainJpeg } from './plain-jpeg';
import { isReadable, prepare } from './prepare';
import { type Refused, refuse } from './refusals';

const type = 'image/jpeg';
const nameOf = (hash: string, size: number) => `${hash.slice(0, 2)}/${hash}/${size}.jpg`;

/** One at a time: a decoded photo weighs hundreds of megabytes, and those who write come first. */
let last: Promise<unknown> = Promise.resolve();
function inTurn<T>(work: () => Promise<T>): Promise<T> {
  const turn = last.then(work);
  last = turn.catch(() => {});
  return turn;
}

export type KeptPicture = { ok: true; picture: PictureRow } | Refused;

/** Keeps a picture, once however often it is sent. It is seen by nobody before a page or a machine holds it. */
export async function keepPicture(bytes: Uint8Array): Promise<KeptPicture> {
  const hash = createHash('sha256').update(bytes).digest('hex');
  const known = await getPicture(hash);
  if (known?.removedAt) return refuse('This picture was removed for good', 'Take another one.');
  if (known && !known.brought && (await isWhole(known))) return { ok: true, picture: known };
  const prepared = await inTurn(() => prepare(bytes));
  if (!prepared.ok) return prepared;
  const { width, height, files } = prepared;
  for (const file of files) await filePlace().put(nameOf(hash, file.size), file.bytes, type);
  return { ok: true, picture: await putPicture({ hash, width, height }) };
}

/** A folder that was restored from an older backup lacks files; who sends the picture again mends that. */
const isWhole = async (picture: PictureRow): Promise<boolean> => (await keptFiles(picture)) !== null;

/** The files of a picture as they are kept, each by its size; null when one of them is missing. */
export async function keptFiles(picture: { hash: string } & Extent): Promise<{ size: number; bytes: Uint8Array }[] | null> {
  const files = await Promise.all(
    sizesOf(picture).map(async (size) => ({ size, bytes: await filePlace().get(nameOf(picture.hash, size)) })),
  );
  return files.every((file): file is { size: number; bytes: Uint8Array<ArrayBuffer> } => file.bytes !== null) ? files : null;
}

/**
 * Keeps files that came as they are, from an archive: each must hold a picture of the size that it should have and nothing else, and be
 * whole. False when one does not, and then nothing is kept.
 */
export async function keepFiles(
  picture: { hash: string } & Extent,
  files: readonly { size: number; bytes: Uint8Array }[],
): Promise<boolean> {
  for (const { size, bytes } of files) {
    const [is, should] = [plainJpeg(bytes), extentAt(picture, size)];
    if (is?.width !== should.width || is.height !== should.height || !(await inTurn(() => isReadable(bytes)))) return false;
  }
  for (const { size, bytes } of files) await filePlace().put(nameOf(picture.hash, size), bytes, type);
  return true;
}

export const removeFiles = (picture: { hash: string } & Extent) =>
  Promise.all(sizesOf(picture).map((size) => filePlace().remove(nameOf(picture.hash, size))));

export interface ShownFile {
  bytes: Uint8Array<ArrayBuffer>;
  type: string;
  etag: string;
}

/** The file of a picture at a size; null when there is no such size, or its file is missing. */
export async function readPicture(picture: { hash: string } & Extent, asked: number): Promise<ShownFile | null> {
  const size = servedSize(picture, asked);
  const bytes = size === null ? null : await filePlace().get(nameOf(picture.hash, size));
  return bytes && { bytes, type, etag: etagOf(picture, asked) };
}

/** What a browser names when it asks whether its copy is still good. */
export const etagOf = (picture: { hash: string } & Extent, asked: number) => `"${picture.hash}-${servedSize(picture, asked)}"`;

/**
 * Removes a picture for good: its files go, and it is not taken in again; its name stays, so that wherever it was shown says so. False when
 * there is no such picture. Doing it again takes away files that a fault left.
 */
export async function removeForGood(hash: string, member: string): Promise<boolean> {
  const picture = await noteRemoved(hash, member); // first: what is removed is not served, whatever becomes of its files
  if (!picture) return false;
  await removeFiles(picture);
  return true;
}

/** Removes a picture that nothing holds any more, with its files. True when it is gone. */
export async function dropUnheld(picture: PictureRow): Promise<boolean> {
  if (!(await deletePicture(picture.hash))) return false;
  await removeFiles(picture);
  return true;
}
