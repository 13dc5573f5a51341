import sharp from 'sharp';
import { describe, expect, test, vi } from 'vitest';
import { mostBytes, mostPixels } from '@/lib/files/limits';
import { type Prepared, prepare } from '@/lib/files/prepare';
import { sniff } from '@/lib/files/sniff';
import { bomb, cmyk, halves, jpeg, movingGif, pixel, segments, speckled, truncated, turned, withPlace } from './images';

const good = async (bytes: Uint8Array): Promise<Prepared> => {
  const made = await prepare(bytes);
  if (!made.ok) throw new Error(made.message);
  return made;
};
const refused = async (bytes: Uint8Array) => {
  vi.spyOn(console, 'warn').mockImplementation(() => {});
  const made = await prepare(bytes);
  vi.restoreAllMocks();
  if (made.ok) throw new Error('was taken');
  return made;
};
const only = ({ files }: Prepared) => files[0]?.bytes ?? new Uint8Array();
const near = (colour: number[], [r = 0, g = 0, b = 0]: number[], by = 12) =>
  expect(Math.max(...colour.map((c, at) => Math.abs(c - ([r, g, b][at] ?? 0)))), `${colour}`).toBeLessThanOrEqual(by);

describe('what a file is', () => {
  test('is told by its bytes, in every kind that is taken', async () => {
    const kinds = {
      jpeg: await jpeg(),
      png: await halves().png().toBuffer(),
      gif: await halves().gif().toBuffer(),
      webp: await halves().webp().toBuffer(),
      avif: await halves().avif().toBuffer(),
    };
    for (const [kind, bytes] of Object.entries(kinds)) {
      expect(sniff(bytes)).toBe(kind);
      const made = await good(bytes);
      expect(made).toMatchObject({ width: 64, height: 32 });
      expect(sniff(only(made))).toBe('jpeg');
      near(await pixel(only(made), 10, 16), [255, 0, 0], 20);
      near(await pixel(only(made), 54, 16), [0, 0, 255], 20);
    }
  });

  test('is not what it is called: drawings and pages that could carry scripts are refused by name', async () => {
    const svg = Buffer.from('<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>');
    expect((await refused(svg)).message).toContain('SVG');
    expect((await refused(Buffer.from('<!DOCTYPE html><script>alert(1)</script>'))).message).toBe('This is a web page');
    expect((await refused(Buffer.from('%PDF-1.7 …'))).message).toBe('This is a PDF');
    expect(await refused(Buffer.from('no picture at all'))).toEqual({
      ok: false,
      message: 'This is no picture that can be read',
      mend: 'Send a photo as JPEG, PNG, WebP, AVIF or GIF.',
    });
  });

  test('a HEIC is named, with what to set', async () => {
    const heic = Buffer.concat([Buffer.from([0, 0, 0, 24]), Buffer.from('ftypheic\0\0\0\0mif1heic'), Buffer.alloc(40)]);
    const { message, mend } = await refused(heic);
    expect(message).toContain('HEIC');
    expect(mend).toContain('JPEG');
  });

  test('a picture’s first bytes before something else are not enough', async () => {
    const disguised = Buffer.concat([Buffer.from('\xff\xd8\xff', 'latin1'), Buffer.from('<html><script>alert(1)</script>')]);
    expect((await refused(disguised)).message).toBe('This is no picture that can be read');
    const png = Buffer.concat([Buffer.from('\x89PNG\r\n\x1a\n', 'latin1'), await jpeg()]);
    expect((await refused(png)).ok).toBe(false);
  });

  test('what hangs on behind a picture is not passed on', async () => {
    const carrying = Buffer.concat([await jpeg(), Buffer.from('<script>stowaway</script>')]);
    const made = await good(carrying);
    for (const { bytes } of made.files) expect(Buffer.from(bytes).includes('stowaway')).toBe(false);
  });
});

describe('what is kept', () => {
  test('says nothing of where and with what it was taken', async () => {
    const came = await withPlace();
    expect(segments(came).map((s) => s.text.slice(0, 4))).toContain('Exif'); // the test would see it
    expect(came.includes('Invented Optics')).toBe(true);
    expect((await sharp(came).metadata()).exif).toBeDefined();
    const made = await good(came);
    for (const { bytes } of made.files) {
      expect(Buffer.from(bytes).includes('Invented')).toBe(false);
      expect(Buffer.from(bytes).includes('SN-0042')).toBe(false);
      // Only JFIF (APP0) and what decoding needs: no Exif or XMP (APP1), no profile (APP2), no others, no comment (ITU-T T.81 table B.1)
      const kinds = segments(bytes).map(({ marker }) => marker);
      expect(kinds.filter((marker) => (marker > 0xffe0 && marker <= 0xffef) || marker === 0xfffe)).toEqual([]);
      const { exif, icc, xmp, iptc } = await sharp(bytes).metadata();
      expect([exif, icc, xmp, iptc]).toEqual([undefined, undefined, undefined, undefined]);
    }
  });

  // Orientation: CIPA DC-008-2019 § 4.6.4, tag 0x0112, from memory. The stored row 0 is the named side when it is shown.
  test('stands upright whichever way the camera was held', async () => {
    const redAt: Record<number, [x: number, y: number]> = {
      1: [8, 16], // as stored: red left
      2: [56, 16], // mirrored: red right
      3: [56, 16], // upside down: red right
      4: [8, 16], // mirrored upside down: red left
      5: [16, 8], // columns to rows: red on top
      6: [16, 8], // turned clockwise: left side goes on top
      7: [16, 56],
      8: [16, 56], // turned anticlockwise: left side goes to the bottom
    };
    for (const [orientation, [x, y]] of Object.entries(redAt)) {
      const made = await good(await turned(Number(orientation)));
      expect([made.width, made.height]).toEqual(Number(orientation) >= 5 ? [32, 64] : [64, 32]);
      near(await pixel(only(made), x, y), [255, 0, 0]);
      near(await pixel(only(made), made.width - 1 - x, made.height - 1 - y), [0, 0, 255]);
      expect((await sharp(only(made)).metadata()).orientation).toBeUndefined();
    }
  });

  test('is sRGB in three channels of eight bits, also from CMYK, grey and sixteen bits; what was clear is white', async () => {
    const came = await cmyk();
    expect((await sharp(came).metadata()).space).toBe('cmyk');
    const sources = [
      came,
      await halves().greyscale().toColourspace('b-w').png().toBuffer(),
      await halves().toColourspace('rgb16').png().toBuffer(),
    ];
    for (const source of sources) {
      const { space, channels, depth } = await sharp(only(await good(source))).metadata();
      expect([space, channels, depth]).toEqual(['srgb', 3, 'uchar']);
    }
    const [red = 0, green = 0, blue = 0] = await pixel(only(await good(came)), 10, 16);
    expect(red).toBeGreaterThan(180); // process inks can't print the full red: no exact value, still clearly red
    expect(Math.max(green, blue)).toBeLessThan(90);
    const clear = await sharp({ create: { width: 8, height: 8, channels: 4, background: { r: 0, g: 0, b: 0, alpha: 0 } } })
      .png()
      .toBuffer();
    near(await pixel(only(await good(clear)), 4, 4), [255, 255, 255]);
  });

  test('a wide-gamut photo keeps its colours: its profile is applied before it goes', async () => {
    const [r, g, b] = await pixel(only(await good(await withPlace())), 10, 16);
    near([r ?? 0, g ?? 0, b ?? 0], [255, 0, 0], 20); // the file was written from sRGB red through Display P3
  });

  test('comes in the sizes up to its own, never larger, with its shape', async () => {
    const made = await good(await speckled(1000, 500).jpeg().toBuffer());
    expect(made.files.map(({ size }) => size)).toEqual([1600, 800, 320]);
    const extents = await Promise.all(
      made.files.map(async ({ bytes }) => (({ width, height }) => [width, height])(await sharp(bytes).metadata())),
    );
    expect(extents).toEqual([
      [1000, 500],
      [800, 400],
      [320, 160],
    ]);
    expect((await good(await halves(20, 10).png().toBuffer())).files).toHaveLength(1);
    const tall = await good(await speckled(2, 5000).png().toBuffer());
    expect((await sharp(only(tall)).metadata()).width).toBe(1);
  });

  test('keeps full colour resolution, so that a thin stripe keeps its colour', async () => {
    const made = await good(await jpeg());
    expect((await sharp(only(made)).metadata()).chromaSubsampling).toBe('4:4:4');
  });
});

describe('what is refused', () => {
  test('a bomb, by what its head says, before it is unpacked', async () => {
    const bytes = bomb(30_000); // 900 million pixels
    expect(bytes.length).toBeLessThan(200_000);
    const began = performance.now();
    const before = process.memoryUsage().rss;
    const { message, mend } = await refused(bytes);
    expect(message).toBe('This picture says that it is 30000 × 30000 pixels');
    expect(mend).toContain('120 million pixels');
    expect(performance.now() - began).toBeLessThan(2000);
    expect(process.memoryUsage().rss - before).toBeLessThan(200e6); // unpacked it would be 900 MB and more
  });

  test('a picture of just the greatest number of pixels is still taken', async () => {
    const side = Math.floor(Math.sqrt(mostPixels));
    expect(await good(bomb(side))).toMatchObject({ width: side, height: side });
    expect((await refused(bomb(side + 1))).message).toContain('pixels');
  });

  test('too many bytes', async () => {
    expect(await refused(new Uint8Array(mostBytes + 1))).toMatchObject({ mend: 'Send pictures of at most 30 MB.' });
  });

  test('one that lacks its end, or is damaged within', async () => {
    expect((await refused(await truncated())).message).toBe('This picture is damaged, or its end is missing');
    const png = await speckled(200, 200).png().toBuffer();
    expect((await refused(png.subarray(0, png.length / 2))).message).toContain('damaged');
    const damaged = Buffer.from(png);
    damaged.fill(0, 2000, 4000);
    expect((await refused(damaged)).message).toContain('damaged');
  });

  test('one that moves', async () => {
    const gif = await movingGif();
    expect((await sharp(gif).metadata()).pages).toBe(2);
    expect((await refused(gif)).message).toBe('This picture moves');
    expect((await refused(await sharp(gif, { animated: true }).webp().toBuffer())).message).toBe('This picture moves');
  });

  test('any bytes give an answer', async () => {
    const whole = await jpeg();
    for (let at = 0; at < 60; at++) {
      const bytes = Buffer.from(whole);
      for (let hit = 0; hit < 6; hit++) bytes[(at * 7919 + hit * 104_729) % bytes.length] = (at * 31 + hit * 17) & 255;
      vi.spyOn(console, 'warn').mockImplementation(() => {});
      const made = await prepare(bytes);
      expect(typeof made.ok).toBe('boolean');
      if (made.ok) for (const file of made.files) expect((await sharp(file.bytes).metadata()).format).toBe('jpeg');
    }
    vi.restoreAllMocks();
  });
});
