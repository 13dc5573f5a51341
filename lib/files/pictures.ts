/** Pictures whole: from the bytes that came to the files and the row, and back to the bytes that are shown. */
import { createHash } from 'node:crypto';
import { deletePicture, getPicture, type PictureRow, putPicture } from '@/lib/store/pictures';
import { type Extent, servedSize, sizesOf } from './limits';
import { filePlace } from './place';
import { prepare } from './prepare';
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
async function isWhole({ hash, ...extent }: PictureRow): Promise<boolean> {
  const all = await Promise.all(sizesOf(extent).map((size) => filePlace().get(nameOf(hash, size))));
  return all.every((file) => file !== null);
}

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

/** Removes a picture that nothing holds any more, with its files. True when it is gone. */
export async function dropUnheld(picture: PictureRow): Promise<boolean> {
  if (!(await deletePicture(picture.hash))) return false;
  await Promise.all(sizesOf(picture).map((size) => filePlace().remove(nameOf(picture.hash, size))));
  return true;
}
