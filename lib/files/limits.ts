/** What is taken as a picture, and in which sizes it is kept. Read by the server, the editor and the reading pages. */

export const mostBytes = 30_000_000;
/** More than any camera of a phone takes; a file of a few kilobytes can claim a thousand times as many. */
export const mostPixels = 120_000_000;
export const mostSide = 30_000;

/** Longest sides in pixels; a picture is never made larger than it came. */
export const sizes = [320, 800, 1600, 3200] as const;

/** Width and height of a picture, upright, in pixels. */
export interface Extent {
  width: number;
  height: number;
}

/** The sizes of which a picture has a file of its own: up to the first that holds it whole. */
export const sizesOf = ({ width, height }: Extent): number[] =>
  sizes.filter((_, at) => at === 0 || (sizes[at - 1] ?? 0) < Math.max(width, height));

/** The size that is served when `asked` is asked for; null for a size that there never is. */
export function servedSize(extent: Extent, asked: number): number | null {
  if (!(sizes as readonly number[]).includes(asked)) return null;
  return sizesOf(extent).findLast((size) => size <= asked) ?? null;
}

/** How large a picture is at a size. */
export function extentAt({ width, height }: Extent, size: number): Extent {
  const scale = Math.min(1, size / Math.max(width, height));
  return { width: Math.max(1, Math.round(width * scale)), height: Math.max(1, Math.round(height * scale)) };
}

export const isHash = (text: string) => /^[0-9a-f]{64}$/.test(text);
export const pictureUrl = (hash: string, size: number, base = '') => `${base}/files/${hash}/${size}`;

/** For `srcset`: each size with its width. */
export const sourceSet = (hash: string, extent: Extent, base = ''): string =>
  sizesOf(extent)
    .map((size) => `${pictureUrl(hash, size, base)} ${extentAt(extent, size).width}w`)
    .join(', ');
