/** Ids of widgets within a page. */

const letters = 'abcdefghijklmnopqrstuvwxyz234567'; // 32: five bits of each byte, no modulo bias
const length = 12; // 60 bits

const cryptoBytes = (count: number) => crypto.getRandomValues(new Uint8Array(count));

/** A fresh id of 12 letters and digits, from the platform's random source or the caller's. */
export function newId(randomBytes: (count: number) => Uint8Array = cryptoBytes): string {
  return Array.from(randomBytes(length), (byte) => letters[byte & 31]).join('');
}

export const isId = (value: unknown): value is string => typeof value === 'string' && /^[A-Za-z0-9_-]{1,64}$/.test(value);
export const isKind = (value: unknown): value is string => typeof value === 'string' && /^[a-z][a-z0-9-]{0,63}$/.test(value);
