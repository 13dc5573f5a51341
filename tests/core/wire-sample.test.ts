/** The colour of a spot in a picture, and which wire of a connector it is. Names are checked on pictures painted here through culori 4.0.2 (MIT). */
import { converter, formatHex } from 'culori';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { sampledWires, type WireSample } from '@/lib/core/lookup';
import { colourNames, colourOf, labOfLight, labOfSrgb, type Pixels, type Sample, sampleSpot } from '@/lib/core/wire';
import { fixtureChart } from './fixture';

type Rgb = [number, number, number];
const toLight = converter('lrgb');
const toBytes = converter('rgb');

/** A picture whose pixels are given by place. */
function picture(width: number, height: number, at: (x: number, y: number) => Rgb): Pixels {
  const data = new Uint8ClampedArray(width * height * 4);
  for (let y = 0; y < height; y++) for (let x = 0; x < width; x++) data.set([...at(x, y), 255], 4 * (y * width + x));
  return { data, width, height };
}
const rgbOf = (hex: string): Rgb => [1, 3, 5].map((at) => Number.parseInt(hex.slice(at, at + 2), 16)) as Rgb;
/** A named colour as a camera records it under a lamp: each channel's light is weakened by the lamp's. */
function under(lamp: Rgb, name: string): Rgb {
  const light = toLight(colourOf(name)?.srgb ?? '#000000');
  const seen = light && toBytes({ mode: 'lrgb', r: light.r * lamp[0], g: light.g * lamp[1], b: light.b * lamp[2] });
  return rgbOf(formatHex(seen) ?? '#000000');
}
function sampled(rgb: Rgb): Sample {
  const sample = sampleSpot(
    picture(9, 9, () => rgb),
    { x: 4, y: 4 },
    3,
  );
  if (!sample) throw new Error('no pixel');
  return sample;
}
const daylight: Rgb = [0.8, 0.8, 0.8];
const warmLamp: Rgb = [0.85, 0.62, 0.34];
const touch = (lamp: Rgb, base: string, stripe?: string | 'none', white = true): WireSample => ({
  base: sampled(under(lamp, base)),
  ...(stripe !== undefined && { stripe: stripe === 'none' ? ('none' as const) : sampled(under(lamp, stripe)) }),
  ...(white && { white: sampled(under(lamp, 'white')) }),
});
const pair = (lamp: Rgb, wire: string) => {
  const [base = '', stripe = 'none'] = wire.split('/');
  return touch(lamp, base, stripe);
};
const here = { header: 'A3J4' };
const held = [...new Set([...fixtureChart.pins.values()].filter((t) => t.header === 'A3J4').flatMap((t) => t.wires.map((w) => w.colour)))];

describe('the colour of a spot', () => {
  it('is the one of a plain surface, in light', () => {
    fc.assert(
      fc.property(fc.tuple(...[0, 1, 2].map(() => fc.integer({ min: 0, max: 255 }))), (rgb) => {
        const { light, spread, clipped } = sampled(rgb as Rgb);
        const wanted = toLight({ mode: 'rgb', r: (rgb[0] ?? 0) / 255, g: (rgb[1] ?? 0) / 255, b: (rgb[2] ?? 0) / 255 });
        for (const [i, axis] of (['r', 'g', 'b'] as const).entries()) expect(Math.abs((light[i] ?? 9) - wanted[axis])).toBeLessThan(1e-6);
        expect(spread).toBe(0);
        expect(clipped).toBe(rgb.some((v) => v >= 254) ? 1 : 0);
      }),
      { numRuns: 200 },
    );
  });

  it('is not moved by glints and dust that cover less than half of it', () => {
    const noisy = picture(21, 21, (x, y) => ((3 * x + 7 * y) % 5 < 2 ? (x % 2 ? [255, 255, 255] : [2, 2, 2]) : [139, 143, 148]));
    const clean = sampled([139, 143, 148]);
    const sample = sampleSpot(noisy, { x: 10, y: 10 }, 8);
    expect(sample?.light).toEqual(clean.light);
    expect(sample?.clipped).toBeGreaterThan(0.1);
  });

  it('takes what lies inside the picture, and nothing from outside', () => {
    const half = picture(10, 10, (x) => (x < 5 ? [200, 0, 0] : [0, 0, 200]));
    expect(sampleSpot(half, { x: 0, y: 0 }, 3)?.light).toEqual(sampled([200, 0, 0]).light);
    expect(sampleSpot(half, { x: 9.4, y: 9.4 }, 3)?.light).toEqual(sampled([0, 0, 200]).light);
    expect(sampleSpot(half, { x: 40, y: 4 }, 3)).toBeNull();
    expect(sampleSpot({ data: [], width: 0, height: 0 }, { x: 0, y: 0 }, 3)).toBeNull();
  });

  it('has a spread where it lies across two colours', () => {
    const edge = picture(21, 21, (x) => (x < 10 ? [215, 31, 43] : [27, 98, 207]));
    expect(sampleSpot(edge, { x: 10, y: 10 }, 6)?.spread).toBeGreaterThan(20);
  });

  it('is the same seen relative to its white as labOfSrgb has it', () => {
    const [wire, white] = [sampled(rgbOf('#a0501c')), sampled(rgbOf('#f0e0b0'))];
    const [ours, theirs] = [labOfLight(wire.light, white.light), labOfSrgb('#a0501c', '#f0e0b0')];
    for (const axis of ['l', 'a', 'b'] as const) expect(ours?.[axis]).toBeCloseTo(theirs?.[axis] ?? Number.NaN, 9);
  });
});

describe('which wire of the connector', () => {
  it('is the right one for every wire it holds, by day and under a warm lamp', () => {
    expect(held.length).toBeGreaterThan(6);
    for (const lamp of [daylight, warmLamp])
      for (const wire of held) expect(sampledWires(fixtureChart, here, pair(lamp, wire)).wires[0]?.wire).toBe(wire);
  });

  it('is clear of what old wire may pass for, as long as a good likeness is there', () => {
    // The pixels of the picture in tests/browser/sampler.spec.ts.
    const touched = { base: sampled(rgbOf('#837a62')), stripe: sampled(rgbOf('#e46805')), white: sampled(rgbOf('#f0d9ab')) };
    expect(sampledWires(fixtureChart, here, touched)).toMatchObject({ sure: 'clear', words: 'It is most likely grey/orange.' });
  });

  it('needs the white: under a warm lamp a white wire without it looks yellow or tan, and nothing is claimed', () => {
    const white = sampledWires(fixtureChart, {}, touch(warmLamp, 'white', 'none'));
    const without = sampledWires(fixtureChart, {}, touch(warmLamp, 'white', 'none', false));
    expect(white.looks).toBe('white');
    expect(without.looks).not.toBe('white');
    expect(without.sure).toBe('unsure');
    expect(without.wires.every(({ share }) => share === null)).toBe(true);
    expect(without.warnings[0]?.message).toBe('No white is marked.');
  });

  it('never names a wire from elsewhere, and its shares are probabilities', () => {
    const name = fc.constantFrom(...colourNames);
    fc.assert(
      fc.property(name, fc.option(name), fc.integer({ min: 30, max: 100 }), (base, stripe, strength) => {
        const lamp: Rgb = [0.0085 * strength, 0.0075 * strength, 0.006 * strength];
        const { wires, sure } = sampledWires(fixtureChart, here, touch(lamp, base, stripe ?? 'none'));
        for (const { wire, pins } of wires) {
          expect(held).toContain(wire);
          expect(pins.every((pin) => pin.startsWith('A3J4-'))).toBe(true);
        }
        const shares = wires.map(({ share }) => share ?? 0);
        expect(shares).toEqual(shares.toSorted((a, b) => b - a));
        expect(shares.reduce((sum, share) => sum + share, 0)).toBeLessThanOrEqual(1 + 1e-9);
        if (sure === 'clear') expect(shares[0]).toBeGreaterThanOrEqual(0.8);
      }),
      { numRuns: 100 },
    );
  });

  it('says what it cannot tell apart, and that the stripe would', () => {
    const bare = sampledWires(fixtureChart, here, touch(daylight, 'grey'));
    expect(bare.sure).toBe('tie');
    expect(bare.words).toMatch(/^grey, which \d wires in A3J4 are: touch the stripe too\.$/);
    // Halfway between two stripes that the connector has.
    const [tan, white] = [under(daylight, 'tan'), under(daylight, 'white')];
    const between = tan.map((v, i) => Math.round((v + (white[i] ?? 0)) / 2)) as Rgb;
    const tie = sampledWires(fixtureChart, here, { ...touch(daylight, 'grey'), stripe: sampled(between) });
    expect(tie.sure).toBe('tie');
    expect(tie.words).toContain('grey/tan');
    expect(tie.words).toContain('grey/white');
    expect(tie.words).toContain('look again in daylight');
  });

  it('does not press a colour into a connector that has none like it', () => {
    const other = sampledWires(fixtureChart, here, touch(daylight, 'red', 'yellow'));
    expect(other.sure).toBe('none');
    expect(other.words).toContain('it looks red with yellow');
  });

  it('knows no connector of another name', () => {
    expect(sampledWires(fixtureChart, { header: 'A9J9' }, touch(daylight, 'grey', 'orange'))).toMatchObject({ sure: 'none', wires: [] });
  });
});

describe('what spoils it', () => {
  const said = (touched: WireSample) => sampledWires(fixtureChart, here, touched).warnings.map(({ message }) => message);
  const good = pair(daylight, 'grey/orange');

  it('is nothing in a good picture', () => expect(said(good)).toEqual([]));

  it('is each named, and then nothing is claimed', () => {
    const edge = sampleSpot(
      picture(21, 21, (x) => (x < 10 ? [215, 31, 43] : [27, 98, 207])),
      { x: 10, y: 10 },
      6,
    ) as Sample;
    const paperEdge = sampleSpot(
      picture(21, 21, (x) => (x < 12 ? [205, 205, 205] : [90, 90, 90])),
      { x: 10, y: 10 },
      6,
    ) as Sample;
    const cases: [WireSample, string][] = [
      [{ ...good, base: sampled([255, 250, 240]) }, 'The wire is blown out there.'],
      [{ ...good, base: sampled([3, 4, 4]) }, 'The wire is too dark there to have a colour.'],
      [{ ...good, stripe: edge }, 'The stripe: the spot lies across two colours.'],
      [{ ...good, white: sampled([255, 255, 255]) }, 'The white spot is blown out.'],
      [{ ...good, white: sampled([60, 60, 60]) }, 'The white spot is too dark.'],
      [{ ...good, white: sampled(under(daylight, 'yellow')) }, 'The white spot is not white.'],
      [{ ...good, white: sampled([100, 100, 100]) }, 'The wire is brighter than the white spot.'],
      [{ ...good, white: paperEdge }, 'The white spot lies across two colours.'],
    ];
    for (const [touched, message] of cases) {
      expect(said(touched), message).toContain(message);
      expect(sampledWires(fixtureChart, here, touched).sure).toBe('unsure');
    }
  });

  it('takes paper under a warm lamp for white', () => expect(said(pair(warmLamp, 'grey/orange'))).toEqual([]));
  it('takes a black wire for black', () => {
    const black = sampledWires(fixtureChart, {}, touch(daylight, 'black', 'none'));
    expect(black.looks).toBe('black');
    expect(black.warnings).toEqual([]);
  });
});
