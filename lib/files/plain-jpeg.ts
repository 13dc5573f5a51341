/** JPEG files that hold nothing but a picture: what `prepare.ts` makes, and all that is taken from an archive. */
import type { Extent } from './limits';

/** Segments that a picture needs (ITU-T T.81, table B.1, from memory): tables, frame (baseline or progressive), restart interval, scan. */
const needed = new Set([0xdb, 0xc4, 0xdd, 0xc0, 0xc2]);
const frames = new Set([0xc0, 0xc2]);
const [start, end, scan, jfif] = [0xd8, 0xd9, 0xda, 0xe0];
const jfifBytes = 16; // with its length: a header without a thumbnail

/** How large the picture is; null when the file is no JPEG, or has room for anything beside it: Exif, profiles, comments, a tail. */
export function plainJpeg(bytes: Uint8Array): Extent | null {
  const at = (i: number) => bytes[i] ?? 0;
  const word = (i: number) => at(i) * 256 + at(i + 1);
  if (at(0) !== 0xff || at(1) !== start) return null;
  let extent: Extent | null = null;
  let i = 2;
  while (i + 2 <= bytes.length) {
    const marker = at(i + 1);
    if (at(i) !== 0xff) return null;
    if (marker === end) return i + 2 === bytes.length ? extent : null;
    const length = word(i + 2);
    if (length < 2 || i + 2 + length > bytes.length) return null;
    if (frames.has(marker)) extent = extent ? null : { height: word(i + 5), width: word(i + 7) };
    if (frames.has(marker) && !extent) return null; // a second frame
    const known = needed.has(marker) || marker === scan || (marker === jfif && length === jfifBytes);
    if (!known) return null;
    i += 2 + length;
    // Behind the head of a scan come its bits: 0xff is followed by 0 or a restart marker there.
    if (marker === scan) while (i < bytes.length && !(at(i) === 0xff && at(i + 1) !== 0 && (at(i + 1) < 0xd0 || at(i + 1) > 0xd7))) i++;
  }
  return null;
}
