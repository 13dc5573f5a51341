/** A picture file as pixels, upright and small enough to work with. It is read on this device and goes nowhere. */

export interface Picture {
  canvas: HTMLCanvasElement; // never shown itself
  pixels: ImageData; // sRGB
}

const longest = 1600; // px: a wire in a picture of one connector is then still ten or more across
const mostMegabytes = 40;

/** The picture of a file, or of an address of ours; else what to do instead. */
export async function readPicture(image: Blob | string): Promise<Picture | { trouble: string }> {
  if (typeof image !== 'string' && image.size > mostMegabytes * 1e6)
    return { trouble: `This picture has more than ${mostMegabytes} MB. Choose a smaller one.` };
  const bitmap = await bitmapOf(image).catch(() => null);
  if (!bitmap && typeof image === 'string') return { trouble: 'The photo did not come. Open it again as soon as there is network.' };
  if (!bitmap) return { trouble: 'This file cannot be read as a picture here. Choose a JPEG or PNG picture.' };
  const scale = Math.min(1, longest / Math.max(bitmap.width, bitmap.height));
  const canvas = document.createElement('canvas');
  canvas.width = Math.max(1, Math.round(bitmap.width * scale));
  canvas.height = Math.max(1, Math.round(bitmap.height * scale));
  const context = canvas.getContext('2d', { willReadFrequently: true, colorSpace: 'srgb' });
  context?.drawImage(bitmap, 0, 0, canvas.width, canvas.height);
  bitmap.close();
  const pixels = context?.getImageData(0, 0, canvas.width, canvas.height, { colorSpace: 'srgb' });
  return pixels ? { canvas, pixels } : { trouble: 'This device has no memory left for the picture. Close other tabs and try again.' };
}

async function bitmapOf(image: Blob | string): Promise<ImageBitmap> {
  if (typeof image !== 'string') return createImageBitmap(image, { imageOrientation: 'from-image' });
  const shown = new Image(); // also of the device's own copy, which scripts may not fetch
  shown.src = image;
  await shown.decode();
  return createImageBitmap(shown);
}
