/**
 * Makes of any bytes a picture that is safe to keep and to show: upright, in sRGB, in a few sizes, without a word of where and with
 * what it was taken. Everything is decoded and encoded again, so nothing that came with it is passed on.
 */
import sharp, { type Metadata, type Sharp } from 'sharp';
import { type Extent, extentAt, mostPixels, mostSide, sizesOf } from './limits';
import { millions, refuse as no, type Refused, refusalOf, unreadable } from './refusals';
import { type PictureKind, sniff } from './sniff';

export interface Prepared extends Extent {
  ok: true;
  files: { size: number; bytes: Uint8Array }[]; // JPEG
}
const secondsLimit = 60;
const formats: Record<PictureKind, string[]> = { jpeg: ['jpeg'], png: ['png'], gif: ['gif'], webp: ['webp'], avif: ['heif'] };

sharp.concurrency(1); // the rest of the house works at the same time
sharp.cache(false);

/** Reads, checks and shrinks. What is wrong with the file is an answer; only faults of ours throw. */
export async function prepare(bytes: Uint8Array): Promise<Prepared | Refused> {
  const refused = refusalOf(bytes);
  if (refused) return refused;
  const head = await metadata(bytes);
  if (!head || !formats[sniff(bytes) as PictureKind].includes(head.format ?? '')) return unreadable;
  const { width, height, pages = 1 } = head;
  if (pages > 1) return no('This picture moves', 'Save one frame of it as JPEG or PNG.');
  if (width * height > mostPixels || Math.max(width, height) > mostSide)
    return no(
      `This picture says that it is ${width} × ${height} pixels`,
      `Send pictures of at most ${millions(mostPixels)} million pixels and ${mostSide.toLocaleString('en-GB')} on a side.`,
    );
  const upright = (head.orientation ?? 1) >= 5 ? { width: height, height: width } : { width, height };
  try {
    return { ok: true, ...upright, files: await shrink(bytes, upright) };
  } catch (error) {
    console.warn(`A picture could not be read: ${(error as Error).message}`);
    return no('This picture is damaged, or its end is missing', 'Send it again; if that does not help, take it again.');
  }
}

const open = (bytes: Uint8Array) => sharp(bytes, { failOn: 'error', limitInputPixels: mostPixels, pages: 1 });

async function metadata(bytes: Uint8Array): Promise<Metadata | null> {
  try {
    return await sharp(bytes, { limitInputPixels: false }).metadata();
  } catch {
    return null;
  }
}

/** Whether a picture can be decoded to its end. */
export async function isReadable(bytes: Uint8Array): Promise<boolean> {
  try {
    await open(bytes).timeout({ seconds: secondsLimit }).raw().toBuffer();
    return true;
  } catch {
    return false;
  }
}

/** The largest is decoded once; the others are made of it. */
async function shrink(bytes: Uint8Array, extent: Extent): Promise<Prepared['files']> {
  const wanted = sizesOf(extent).toReversed();
  const [largest = 0, ...smaller] = wanted;
  const { data, info } = await open(bytes)
    .autoOrient()
    .resize({ ...extentAt(extent, largest), fit: 'fill', withoutEnlargement: true })
    .flatten({ background: '#ffffff' })
    .toColourspace('srgb')
    .timeout({ seconds: secondsLimit })
    .raw()
    .toBuffer({ resolveWithObject: true });
  const raw = { width: info.width, height: info.height, channels: info.channels };
  const files = [{ size: largest, bytes: await encode(sharp(data, { raw })) }];
  for (const size of smaller)
    files.push({ size, bytes: await encode(sharp(data, { raw }).resize({ ...extentAt(extent, size), fit: 'fill' })) });
  return files;
}

/** Full colour resolution: a wire's stripe is a few pixels wide. */
const encode = async (image: Sharp): Promise<Uint8Array> =>
  image.jpeg({ quality: 82, chromaSubsampling: '4:4:4', progressive: true }).timeout({ seconds: secondsLimit }).toBuffer();
