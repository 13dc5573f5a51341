/** Difference of two colours as the eye sees it: CIEDE2000 over CIELAB at D65. */

/** CIELAB, white point D65, 2° observer. */
export interface Lab {
  l: number;
  a: number;
  b: number;
}

const degrees = Math.PI / 180;
const far = 25 ** 7;
const pull = (chroma: number) => Math.sqrt(chroma ** 7 / (chroma ** 7 + far));
const hueOf = (a: number, b: number) => (a === 0 && b === 0 ? 0 : (Math.atan2(b, a) / degrees + 360) % 360);

/**
 * CIEDE2000 with kL = kC = kH = 1; 1 to 2 is just noticeable. Formula and order of its special cases: Sharma, Wu, Dalal, Color Research
 * and Application 30(1), 2005; their 34 pairs are in tests/reference.
 */
export function ciede2000(one: Lab, two: Lab): number {
  const g = 0.5 * (1 - pull((Math.hypot(one.a, one.b) + Math.hypot(two.a, two.b)) / 2));
  const [a1, a2] = [one.a * (1 + g), two.a * (1 + g)];
  const [c1, c2] = [Math.hypot(a1, one.b), Math.hypot(a2, two.b)];
  const [h1, h2] = [hueOf(a1, one.b), hueOf(a2, two.b)];
  const grey = c1 * c2 === 0;

  const turn = h2 - h1;
  const dh = grey ? 0 : turn > 180 ? turn - 360 : turn < -180 ? turn + 360 : turn;
  const dL = two.l - one.l;
  const dC = c2 - c1;
  const dH = 2 * Math.sqrt(c1 * c2) * Math.sin((dh / 2) * degrees);

  const l = (one.l + two.l) / 2;
  const c = (c1 + c2) / 2;
  const sum = h1 + h2;
  const h = grey ? sum : Math.abs(turn) <= 180 ? sum / 2 : sum < 360 ? (sum + 360) / 2 : (sum - 360) / 2;
  const t =
    1 -
    0.17 * Math.cos((h - 30) * degrees) +
    0.24 * Math.cos(2 * h * degrees) +
    0.32 * Math.cos((3 * h + 6) * degrees) -
    0.2 * Math.cos((4 * h - 63) * degrees);
  const lift = (l - 50) ** 2;
  const x = dL / (1 + (0.015 * lift) / Math.sqrt(20 + lift));
  const y = dC / (1 + 0.045 * c);
  const z = dH / (1 + 0.015 * c * t);
  const turned = -2 * pull(c) * Math.sin(60 * Math.exp(-(((h - 275) / 25) ** 2)) * degrees);
  return Math.sqrt(x * x + y * y + z * z + turned * y * z);
}

const white = [0.3127 / 0.329, 1, (1 - 0.3127 - 0.329) / 0.329] as const; // D65 by its chromaticity, as IEC 61966-2-1 gives it
const root = (t: number) => (t > 216 / 24389 ? Math.cbrt(t) : (t * (24389 / 27) + 16) / 116);

/** Light of the red, green and blue channel of a picture, 0…1: the number in the file without its curve. */
export type Light = readonly [r: number, g: number, b: number];

/** Light of a channel, 0…1, from its number in the file, 0…255 (IEC 61966-2-1). */
export function lightOfByte(byte: number): number {
  const v = byte / 255;
  return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
}

/** Light of `#rrggbb`; null when it is not written so. */
function lightOf(srgb: string): Light | null {
  const digits = /^#([0-9a-f]{6})$/i.exec(srgb)?.[1];
  if (!digits) return null;
  const channel = (at: number) => lightOfByte(Number.parseInt(digits.slice(at, at + 2), 16));
  return [channel(0), channel(2), channel(4)];
}

/**
 * CIELAB of a pixel `#rrggbb`. `neutral`: the same photo's pixel of something known to be white; the pixel is then seen relative to it, which
 * takes the lamp's tint and the exposure out. Null when one of them is not `#rrggbb`, or the neutral one is black in a channel.
 */
export function labOfSrgb(srgb: string, neutral = '#ffffff'): Lab | null {
  const [light, ground] = [lightOf(srgb), lightOf(neutral)];
  return light && ground && labOfLight(light, ground);
}

/**
 * CIELAB of a light, seen relative to that of something white: each channel is divided by the white one's, the rule of von Kries, 1902, on the
 * channels of sRGB instead of those of the eye, which is what a camera's white balance does. Null when the white is black in a channel.
 */
export function labOfLight(light: Light, ground: Light = [1, 1, 1]): Lab | null {
  if (ground.some((v) => v === 0)) return null;
  const [r, g, b] = light.map((v, i) => v / (ground[i] ?? 1)) as [number, number, number];
  const x = root((0.4123908 * r + 0.3575843 * g + 0.1804808 * b) / white[0]);
  const y = root(luminance([r, g, b]));
  const z = root((0.0193308 * r + 0.1191948 * g + 0.9505322 * b) / white[2]);
  return { l: 116 * y - 16, a: 500 * (x - y), b: 200 * (y - z) };
}

/** How bright a light is, 0…1. */
export const luminance = ([r, g, b]: Light): number => 0.212639 * r + 0.7151687 * g + 0.0721923 * b;
