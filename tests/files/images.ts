/** Real picture files, made here: nothing is checked in, and each is what its name says. */
import { deflateSync } from 'node:zlib';
import sharp, { type Sharp } from 'sharp';

/** Left half red, right half blue, so that a turn shows. */
export const halves = (width = 64, height = 32) =>
  sharp({ create: { width, height, channels: 3, background: '#ff0000' } }).composite([
    { input: { create: { width: width / 2, height, channels: 3, background: '#0000ff' } }, left: width / 2, top: 0 },
  ]);

/** Detail all over, so that sizes differ in more than their numbers. */
export function speckled(width: number, height: number): Sharp {
  const data = Buffer.alloc(width * height * 3);
  for (let at = 0, seed = 1; at < data.length; at++) {
    seed = (seed * 1_103_515_245 + 12_345) & 0x7fffffff;
    data[at] = (seed >> 16) & 255;
  }
  return sharp(data, { raw: { width, height, channels: 3 } });
}

export const jpeg = () => halves().jpeg({ quality: 95, chromaSubsampling: '4:4:4' }).toBuffer();

/** As a phone writes it: where, when and with what, and a colour profile. */
export const withPlace = () =>
  halves()
    .withIccProfile('p3')
    .withExif({
      IFD0: { Make: 'Invented Optics', Model: 'Pocket 7', Artist: 'Somebody', Orientation: '1' },
      IFD2: { DateTimeOriginal: '2025:11:08 10:00:00', BodySerialNumber: 'SN-0042' },
      IFD3: { GPSLatitudeRef: 'N', GPSLatitude: '51/1 30/1 3230/100', GPSLongitudeRef: 'W', GPSLongitude: '0/1 7/1 4366/100' },
    })
    .jpeg({ quality: 95 })
    .toBuffer();

/** Stored on its side; Exif orientation 1–8 says how to hold it (CIPA DC-008, tag 0x0112). */
export const turned = (orientation: number) =>
  halves().withMetadata({ orientation }).jpeg({ quality: 95, chromaSubsampling: '4:4:4' }).toBuffer();

export const cmyk = () => halves().toColourspace('cmyk').jpeg({ quality: 95 }).toBuffer();
export const truncated = async () => {
  const whole = await speckled(400, 300).jpeg().toBuffer();
  return whole.subarray(0, Math.floor(whole.length / 2));
};
export const movingGif = () =>
  sharp(Buffer.concat([Buffer.alloc(64 * 64 * 3, 10), Buffer.alloc(64 * 64 * 3, 200)]), {
    raw: { width: 64, height: 128, channels: 3, pageHeight: 64 },
  })
    .gif({ delay: [100, 100] })
    .toBuffer();

function crc32(bytes: Uint8Array): number {
  let crc = ~0;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit++) crc = (crc >>> 1) ^ (crc & 1 ? 0xedb88320 : 0);
  }
  return ~crc >>> 0;
}
function chunk(kind: string, data: Uint8Array): Buffer {
  const body = Buffer.concat([Buffer.from(kind, 'latin1'), data]);
  const out = Buffer.alloc(body.length + 8);
  out.writeUInt32BE(data.length, 0);
  body.copy(out, 4);
  out.writeUInt32BE(crc32(body), body.length + 4);
  return out;
}

/** A PNG (RFC 2083) of one bit a pixel, all black: a gigapixel in a hundred and some kilobytes. */
export function bomb(side: number): Buffer {
  const head = Buffer.alloc(13);
  head.writeUInt32BE(side, 0);
  head.writeUInt32BE(side, 4);
  head.set([1, 0, 0, 0, 0], 8);
  const rows = Buffer.alloc(side * (1 + Math.ceil(side / 8)));
  return Buffer.concat([
    Buffer.from('\x89PNG\r\n\x1a\n', 'latin1'),
    chunk('IHDR', head),
    chunk('IDAT', deflateSync(rows, { level: 9 })),
    chunk('IEND', new Uint8Array()),
  ]);
}

/** The markers of a JPEG up to its first scan (ITU-T T.81 § B.1.1), with what the application segments begin with. */
export function segments(bytes: Uint8Array): { marker: number; text: string }[] {
  const found: { marker: number; text: string }[] = [];
  const view = Buffer.from(bytes);
  for (let at = 2; at < view.length; ) {
    const marker = view.readUInt16BE(at);
    const length = view.readUInt16BE(at + 2);
    found.push({ marker, text: view.subarray(at + 4, at + Math.min(length + 2, 64)).toString('latin1') });
    if (marker === 0xffda) return found;
    at += 2 + length;
  }
  return found;
}

/** The colour of one pixel. */
export async function pixel(bytes: Uint8Array, left: number, top: number): Promise<number[]> {
  const { data } = await sharp(bytes).extract({ left, top, width: 1, height: 1 }).raw().toBuffer({ resolveWithObject: true });
  return [...data];
}
