/** Messages between servers as notifications of the database carry them. */
import * as decoding from 'lib0/decoding';
import * as encoding from 'lib0/encoding';
import * as z from 'zod';
import type { BusMessage } from './types';

export const channel = 'fettlebook';
/** PostgreSQL refuses payloads of 8000 bytes and more. */
const mostBytes = 7900;
/** Pages in one notification of an append: the longest ids (64) and numbers (16) stay well under the limit. */
export const pagesInOne = 64;

const id = z.string().regex(/^[\w-]{1,64}$/);
const base64 = z
  .string()
  .regex(/^[A-Za-z0-9+/]+={0,2}$/)
  .transform((text) => new Uint8Array(Buffer.from(text, 'base64')));
const message = z.discriminatedUnion('kind', [
  // Many pages at once: [id, number of the newest entry].
  z.object({ kind: z.literal('log'), pages: z.array(z.tuple([id, z.int().positive()])).min(1) }),
  z.object({ kind: z.literal('presence'), page: id, update: base64 }),
  z.object({ kind: z.literal('presence-ask'), page: id }),
  z.object({ kind: z.literal('page-gone'), page: id }),
  z.object({ kind: z.literal('member'), member: z.string().min(1).max(200) }),
  z.object({ kind: z.literal('charts') }),
]);
const envelope = z.object({ node: z.string().min(1).max(64), message });

/** The messages of a payload and the server that sent them; null when the payload is none of ours. */
export function readPayload(payload: string): { node: string; messages: BusMessage[] } | null {
  let json: unknown;
  try {
    json = JSON.parse(payload);
  } catch {
    return null;
  }
  const read = envelope.safeParse(json);
  if (!read.success) return null;
  const { node, message } = read.data;
  if (message.kind !== 'log') return { node, messages: [message] };
  return { node, messages: message.pages.map(([page, number]) => ({ kind: 'log', page, number })) };
}

/**
 * The payloads for one message, each within the limit. `turn` differs from payload to payload of one server: of equal notifications in
 * one transaction only the first would arrive. Presence of many people is split; of one person whose own is too long, it is left out.
 */
export function writePayloads(node: string, turn: number, message: BusMessage): string[] {
  const write = (part: object, at: number) => JSON.stringify({ node, turn: `${turn}.${at}`, message: part });
  const fits = (payload: string) => Buffer.byteLength(payload) <= mostBytes;
  if (message.kind === 'log') return [write({ kind: 'log', pages: [[message.page, message.number]] }, 0)];
  if (message.kind !== 'presence') return [write(message, 0)];
  const presence = (update: Uint8Array, at: number) => write({ ...message, update: Buffer.from(update).toString('base64') }, at);
  const whole = presence(message.update, 0);
  if (fits(whole)) return [whole];
  return splitPresence(message.update)
    .map(presence)
    .filter((payload) => fits(payload));
}

/** An awareness update as one for each person; none when it can't be read. Layout: count, then client, clock and state in JSON. */
function splitPresence(update: Uint8Array): Uint8Array[] {
  try {
    const decoder = decoding.createDecoder(update);
    return Array.from({ length: decoding.readVarUint(decoder) }, () => {
      const encoder = encoding.createEncoder();
      encoding.writeVarUint(encoder, 1);
      encoding.writeVarUint(encoder, decoding.readVarUint(decoder));
      encoding.writeVarUint(encoder, decoding.readVarUint(decoder));
      encoding.writeVarString(encoder, decoding.readVarString(decoder));
      return encoding.toUint8Array(encoder);
    });
  } catch {
    return [];
  }
}
