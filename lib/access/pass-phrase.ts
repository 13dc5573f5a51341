/** Pass phrases of links: said over the telephone, so capitals and spaces do not count. Kept as scrypt hashes. */
import { randomBytes, scrypt, timingSafeEqual } from 'node:crypto';
import { promisify } from 'node:util';

const derive = promisify<string, Buffer, number, { N: number; r: number; p: number; maxmem: number }, Buffer>(scrypt);
const cost = { N: 2 ** 15, r: 8, p: 1, maxmem: 64 * 1024 * 1024 };
export const leastLetters = 6;

const plain = (phrase: string) => phrase.normalize('NFKC').toLowerCase().replace(/\s+/g, '');

/** Whether it is long enough to be kept; spaces do not count. */
export const isLongEnough = (phrase: string) => plain(phrase).length >= leastLetters;

export async function hashPhrase(phrase: string): Promise<string> {
  const salt = randomBytes(16);
  const key = await derive(plain(phrase), salt, 32, cost);
  return `${salt.toString('base64url')}.${key.toString('base64url')}`;
}

export async function isPhrase(phrase: string, hash: string): Promise<boolean> {
  const [salt = '', kept = ''] = hash.split('.');
  const key = await derive(plain(phrase), Buffer.from(salt, 'base64url'), 32, cost);
  const known = Buffer.from(kept, 'base64url');
  return known.length === key.length && timingSafeEqual(known, key);
}
