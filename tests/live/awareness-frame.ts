/** Awareness messages of any content. */
import * as encoding from 'lib0/encoding';
import { messageAwareness } from '@/lib/live/protocol';

export function awarenessUpdate(entries: [client: number, clock: number, json: string][]): Uint8Array {
  const inner = encoding.createEncoder();
  encoding.writeVarUint(inner, entries.length);
  for (const [client, clock, json] of entries) {
    encoding.writeVarUint(inner, client);
    encoding.writeVarUint(inner, clock);
    encoding.writeVarString(inner, json);
  }
  return encoding.toUint8Array(inner);
}

export function awarenessFrame(entries: [client: number, clock: number, json: string][]): Uint8Array {
  const encoder = encoding.createEncoder();
  encoding.writeVarUint(encoder, messageAwareness);
  encoding.writeVarUint8Array(encoder, awarenessUpdate(entries));
  return encoding.toUint8Array(encoder);
}
