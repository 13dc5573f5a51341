/** JPEG files that hold nothing but a picture. Markers: ITU-T T.81, table B.1. */
import { expect, test } from 'vitest';
import { plainJpeg } from '@/lib/files/plain-jpeg';
import { prepare } from '@/lib/files/prepare';
import { halves, jpeg, speckled, withPlace } from './images';

test.each([
  ['small', () => halves(64, 32).png().toBuffer()],
  ['speckled, in all sizes', () => speckled(3300, 700).jpeg().toBuffer()],
  ['from a phone', () => withPlace()],
])('all that this notebook makes is taken as it is: %s', async (_, make) => {
  const made = await prepare(new Uint8Array(await make()));
  if (!made.ok) throw new Error(made.message);
  for (const { size, bytes } of made.files) {
    const extent = plainJpeg(bytes);
    expect(extent && Math.max(extent.width, extent.height)).toBe(Math.min(size, Math.max(made.width, made.height)));
  }
});

const segment = (marker: number, text: string) => {
  const body = Buffer.from(text);
  return Buffer.concat([Buffer.from([0xff, marker, (body.length + 2) >> 8, (body.length + 2) & 255]), body]);
};
const withSegment = (file: Buffer, extra: Buffer) => Buffer.concat([file.subarray(0, 2), extra, file.subarray(2)]);

test('what could hold anything beside the picture is refused', async () => {
  const plain = await jpeg();
  expect(plainJpeg(plain)).toEqual({ width: 64, height: 32 });
  for (const [marker, text] of [
    [0xfe, 'a comment'],
    [0xe1, 'Exif\0\0'],
    [0xe2, 'ICC_PROFILE\0'],
    [0xed, 'Photoshop 3.0\0'],
    [0xe0, 'JFIF\0 and a thumbnail'],
    [0xdc, 'xx'],
  ] as const)
    expect(plainJpeg(withSegment(plain, segment(marker, text))), marker.toString(16)).toBeNull();
  expect(plainJpeg(Buffer.concat([plain, Buffer.from('PK')]))).toBeNull();
  expect(plainJpeg(Buffer.concat([plain, plain]))).toBeNull();
  expect(plainJpeg(await withPlace())).toBeNull();
  expect(plainJpeg(await halves().png().toBuffer())).toBeNull();
  const frame = plain.indexOf(Buffer.from([0xff, 0xc0]));
  const again = plain.subarray(frame, frame + 2 + plain.readUInt16BE(frame + 2));
  expect(plainJpeg(withSegment(plain, again))).toBeNull();
});

test('cut anywhere it is refused, and nothing throws', async () => {
  const plain = await jpeg();
  for (let length = 0; length < plain.length; length++) expect(plainJpeg(plain.subarray(0, length)), String(length)).toBeNull();
});
