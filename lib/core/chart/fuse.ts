/** Fuses against the wire behind them. */

const printed: Readonly<Record<string, number>> = { '½': 0.5, '¼': 0.25, '¾': 0.75, '⅛': 0.125, '⅜': 0.375, '⅝': 0.625, '⅞': 0.875 };

/** `1/4`, `1 1/2`, `1-1/2` and `1½` as decimals. Behind the letter of a name or a speed there is no whole number: `F3 1/2 A` is half an ampere. */
const withoutFractions = (text: string): string =>
  text
    .replace(/(\d*)([½¼¾⅛⅜⅝⅞])/g, (_, whole: string, sign: string) => String(Number(whole) + (printed[sign] ?? 0)))
    .replace(
      /(?:(^|[^\w.,/])(?:(\d{1,2})[ -])?|(\b[FMT]{1,2}))(\d{1,2})[/⁄](2|4|8|16|32)(?!\d)/g,
      (_, before = '', whole = '0', speed = '', over: string, under: string) =>
        `${before}${speed}${Number(whole) + Number(over) / Number(under)}`,
    );

/**
 * Amperes that a fuse is rated, read from words such as `F3, 4 A slow` or `1/4 A`, or a marking such as `T3.15AL250V`; null when they do not
 * say.
 */
export function fuseAmps(text: string): number | null {
  const found = /(?:^|[^\w./]|[^\d\s]\/|\b[FMT]{1,2})(\d+(?:[.,]\d+)?)\s*(m?)A(?:mps?)?(?![a-z])/.exec(withoutFractions(text));
  if (!found?.[1]) return null;
  return Number(found[1].replace(',', '.')) / (found[2] ? 1000 : 1);
}

/** Name of a fuse: `F3` of `F3, 4 A slow`; null when it has none. */
export const fuseName = (text: string): string | null => /^\s*(F\d{1,3})\b/i.exec(text)?.[1]?.toUpperCase() ?? null;

/**
 * Amperes of one hook-up wire in free air, by gauge: the figures usually tabulated as chassis wiring (from memory, no standard). They are
 * generous: a bundle, a connector or a hot cabinet bears less. So they serve to find a fuse that certainly does not protect its wire.
 */
const freeAir: Readonly<Record<number, number>> = {
  10: 55,
  12: 41,
  14: 32,
  16: 22,
  18: 16,
  20: 11,
  22: 7,
  24: 3.5,
  26: 2.2,
  28: 1.4,
  30: 0.86,
  32: 0.53,
  34: 0.33,
  36: 0.21,
};

/** Most amperes that a wire of this gauge bears in free air, 10 to 36 AWG; between two tabulated gauges, those of the thinner. */
export function freeAirAmps(awg: number): number {
  const thinner = Math.min(36, Math.max(10, 2 * Math.ceil(awg / 2)));
  return freeAir[thinner] ?? 0;
}
