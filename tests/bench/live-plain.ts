/**
 * What ours is measured against: the y-websocket protocol and nothing else. One document in memory for each path, every message applied
 * and passed on; no log, no checks, no members. Prints its port.
 */
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import * as decoding from 'lib0/decoding';
import * as encoding from 'lib0/encoding';
import { type WebSocket, WebSocketServer } from 'ws';
import * as awarenessProtocol from 'y-protocols/awareness';
import * as syncProtocol from 'y-protocols/sync';
import * as Y from 'yjs';

interface Shared {
  doc: Y.Doc;
  awareness: awarenessProtocol.Awareness;
  sockets: Set<WebSocket>;
}
const docs = new Map<string, Shared>();

function framed(type: number, write: (encoder: encoding.Encoder) => void): Uint8Array {
  const encoder = encoding.createEncoder();
  encoding.writeVarUint(encoder, type);
  write(encoder);
  return encoding.toUint8Array(encoder);
}

function shared(name: string): Shared {
  const known = docs.get(name);
  if (known) return known;
  const doc = new Y.Doc();
  const awareness = new awarenessProtocol.Awareness(doc);
  awareness.setLocalState(null);
  const sockets = new Set<WebSocket>();
  const send = (message: Uint8Array) => {
    for (const socket of sockets) socket.send(message);
  };
  doc.on('update', (update: Uint8Array) => send(framed(0, (e) => syncProtocol.writeUpdate(e, update))));
  awareness.on('update', ({ added, updated, removed }: Record<'added' | 'updated' | 'removed', number[]>) => {
    const clients = [...added, ...updated, ...removed];
    send(framed(1, (e) => encoding.writeVarUint8Array(e, awarenessProtocol.encodeAwarenessUpdate(awareness, clients))));
  });
  const made = { doc, awareness, sockets };
  docs.set(name, made);
  return made;
}

const server = createServer();
new WebSocketServer({ server, perMessageDeflate: false }).on('connection', (socket, request) => {
  const { doc, awareness, sockets } = shared((request.url ?? '').split('?')[0] ?? '');
  sockets.add(socket);
  socket.binaryType = 'arraybuffer';
  socket.on('close', () => sockets.delete(socket));
  socket.on('message', (data) => {
    const decoder = decoding.createDecoder(new Uint8Array(data as ArrayBuffer));
    const type = decoding.readVarUint(decoder);
    if (type === 1) return awarenessProtocol.applyAwarenessUpdate(awareness, decoding.readVarUint8Array(decoder), socket);
    const answer = framed(0, (e) => syncProtocol.readSyncMessage(decoder, e, doc, socket));
    if (answer.length > 1) socket.send(answer);
  });
  socket.send(framed(0, (e) => syncProtocol.writeSyncStep1(e, doc)));
});
server.listen(0, '127.0.0.1', () => process.send?.({ port: (server.address() as AddressInfo).port }));
process.on('disconnect', () => process.exit(0));
