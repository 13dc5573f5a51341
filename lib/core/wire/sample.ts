/** The colour of a spot in a picture. */
import { ciede2000, type Light, labOfLight, lightOfByte } from './difference';

/** A picture as a canvas gives it: four bytes a pixel, red, green, blue (sRGB) and opacity, row by row from the top left. */
export interface Pixels {
  data: ArrayLike<number>;
  width: number;
  height: number;
}
export interface Spot {
  x: number; // px from the left edge
  y: number; // px from the top
}
export interface Sample {
  light: Light; // each channel's median over the disc
  spread: number; // CIEDE2000 of that colour within which three quarters of the disc lie
  clipped: number; // share of the disc with a channel at its end, where the true colour is lost
}

const full = 254; // of 255: a channel that is as bright as the file can say
const bytes = Array.from({ length: 256 }, (_, byte) => lightOfByte(byte));

/**
 * The colour of a small disc, as the median of each channel's light: dust, a glint and a neighbour's edge do not move it while they cover less
 * than half. `radius` in px. Null when the disc holds no pixel of the picture.
 */
export function sampleSpot(pixels: Pixels, { x, y }: Spot, radius: number): Sample | null {
  const disc = lightsIn(pixels, { x, y }, radius);
  if (disc.length === 0) return null;
  const channel = (at: 0 | 1 | 2) =>
    quantile(
      disc.map((light) => light[at]),
      0.5,
    );
  const light: Light = [channel(0), channel(1), channel(2)];
  const own = labOfLight(light);
  const away = disc.flatMap((each) => {
    const lab = labOfLight(each);
    return own && lab ? [ciede2000(own, lab)] : [];
  });
  const end = bytes[full] ?? 1;
  return { light, spread: quantile(away, 0.75), clipped: disc.filter((each) => each.some((v) => v >= end)).length / disc.length };
}

function lightsIn({ data, width, height }: Pixels, { x, y }: Spot, radius: number): Light[] {
  const lights: Light[] = [];
  for (let row = Math.max(0, Math.ceil(y - radius)); row <= Math.min(height - 1, y + radius); row++)
    for (let column = Math.max(0, Math.ceil(x - radius)); column <= Math.min(width - 1, x + radius); column++) {
      if (Math.hypot(column - x, row - y) > radius) continue;
      const at = 4 * (row * width + column);
      const channel = (k: number) => bytes[data[at + k] ?? 0] ?? 0;
      lights.push([channel(0), channel(1), channel(2)]);
    }
  return lights;
}

/** Between two values that straddle it, the part of the way that is due. */
function quantile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  const at = share * (sorted.length - 1);
  const [low, high] = [sorted[Math.floor(at)] ?? 0, sorted[Math.ceil(at)] ?? 0];
  return low + (high - low) * (at - Math.floor(at));
}
