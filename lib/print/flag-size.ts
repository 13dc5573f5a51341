/** How large a flag is, and may be. */
export interface FlagSize {
  widthMm: number; // of one half, once folded
  heightMm: number;
}
export const usualFlag: FlagSize = { widthMm: 26, heightMm: 9 };
export const flagLimits = { widthMm: [18, 60], heightMm: [7, 30] } as const;
