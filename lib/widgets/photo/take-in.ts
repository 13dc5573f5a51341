/** From a file that was chosen to a photo of the page: looked at, named by its bytes, and handed to the outbox. */
import { digest } from 'lib0/hash/sha256';
import { refusalOf, unreadable } from '@/lib/files/refusals';

export interface TakenIn {
  ok: true;
  hash: string;
  width: number; // upright
  height: number;
  blob: Blob;
}
export type Outcome = TakenIn | { ok: false; message: string; mend: string };

/** Also where the page came without encryption, over the workshop's own network: there browsers have no digest of their own. */
async function hashOf(bytes: Uint8Array<ArrayBuffer>): Promise<string> {
  const hash = crypto.subtle ? new Uint8Array(await crypto.subtle.digest('SHA-256', bytes)) : digest(bytes);
  return [...hash].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}

export async function takeIn(file: Blob): Promise<Outcome> {
  let bytes: Uint8Array<ArrayBuffer>;
  try {
    bytes = new Uint8Array(await file.arrayBuffer());
  } catch {
    return { ok: false, message: 'This file can’t be read from the device', mend: 'Choose it again.' };
  }
  if (bytes.length === 0) return { ok: false, message: 'This file is empty', mend: 'Choose it again.' };
  const refused = refusalOf(bytes);
  if (refused) return refused;
  const blob = new Blob([bytes], { type: file.type }); // of its own: the camera's file may go
  const extent = await extentOf(blob);
  return extent ? { ok: true, hash: await hashOf(bytes), ...extent, blob } : unreadable;
}

/** As the browser would show it, so upright. */
function extentOf(blob: Blob): Promise<{ width: number; height: number } | null> {
  return new Promise((resolve) => {
    const url = URL.createObjectURL(blob);
    const image = new Image();
    const end = (found: boolean) => {
      URL.revokeObjectURL(url);
      resolve(found && image.naturalWidth > 0 ? { width: image.naturalWidth, height: image.naturalHeight } : null);
    };
    image.onload = () => end(true);
    image.onerror = () => end(false);
    image.src = url;
  });
}
