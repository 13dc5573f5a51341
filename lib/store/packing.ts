/** How folded updates are stored: Yjs V2 encoding, compressed where that makes it shorter. */
import { brotliCompressSync, brotliDecompressSync, constants } from 'node:zlib';

// 259,778 keystrokes of a paper: quality 5 gives 65.7 kB in 9 ms, 9 gives 64.8 kB in 167 ms, 11 gives 60.0 kB in 646 ms.
const quality = 5;
/** Most that packed bytes may unpack to: several times what a page may hold. */
export const mostUnpacked = 256 * 1024 * 1024;

// The first byte says how the rest is stored.
const plain = 0;
const brotli = 1;

/** Packs an update (Yjs V2) for the database. */
export function pack(update: Uint8Array): Uint8Array {
  const params = { [constants.BROTLI_PARAM_QUALITY]: quality, [constants.BROTLI_PARAM_SIZE_HINT]: update.length };
  const pressed = brotliCompressSync(update, { params });
  return pressed.length < update.length ? Buffer.concat([Uint8Array.of(brotli), pressed]) : Buffer.concat([Uint8Array.of(plain), update]);
}

/** The update (Yjs V2) as it was packed. Throws when the bytes are none of ours, are damaged, or would unpack to more than 256 MiB. */
export function unpack(packed: Uint8Array): Uint8Array {
  const rest = packed.subarray(1);
  if (packed[0] === plain) return rest;
  if (packed[0] === brotli) return brotliDecompressSync(rest, { maxOutputLength: mostUnpacked });
  throw new Error('the folded page in the database is stored in a way that this version of Fettlebook does not know');
}
