/** Tokens that can't be guessed: random for invites and access tokens, derived for report links. Only hashes are stored. */
import { createHash, createHmac, randomBytes, timingSafeEqual } from 'node:crypto';

/** 256 random bits, url-safe. */
export const newToken = () => randomBytes(32).toString('base64url');
export const hashOf = (token: string) => createHash('sha256').update(token).digest('hex');
/** A token that follows from the secret and an id: it can be shown again without being stored. */
export const derivedToken = (secret: string, id: string) => createHmac('sha256', secret).update(`report:${id}`).digest('base64url');
/** Compares in a time that does not tell how much of it was right. */
export const sameText = (a: string, b: string) => timingSafeEqual(Buffer.from(hashOf(a)), Buffer.from(hashOf(b)));
