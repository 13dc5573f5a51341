/** The frames of the live server, read by the client of a WebSocket library (ws). */
import { once } from 'node:events';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { expect, it } from 'vitest';
import { WebSocket, WebSocketServer } from 'ws';
import { frameOf } from '@/lib/live/wire';

it('frames messages of every kind of length', async () => {
  // RFC 6455, section 5.2: up to 125 bytes the length stands in the second byte, up to 65,535 in two more, from there on in eight.
  const lengths = [0, 1, 125, 126, 127, 255, 256, 65_535, 65_536, 70_000];
  const messages = lengths.map((length) => Uint8Array.from({ length }, (_, n) => (n * 31 + length) % 256));
  const http = createServer().listen(0, '127.0.0.1');
  await once(http, 'listening');
  const sockets = new WebSocketServer({ noServer: true, perMessageDeflate: false });
  http.on('upgrade', (request, line, head) =>
    sockets.handleUpgrade(request, line, head, (socket) => {
      // Between messages that the library frames itself, as pings and closes are.
      socket.send('first');
      for (const message of messages) line.write(frameOf(message));
      socket.send('last');
      socket.close();
    }),
  );
  const client = new WebSocket(`ws://127.0.0.1:${(http.address() as AddressInfo).port}`);
  const heard: { data: Buffer; binary: boolean }[] = [];
  client.on('message', (data, binary) => heard.push({ data: data as Buffer, binary }));
  const [code] = await once(client, 'close');
  http.close();
  expect(code).toBe(1005); // closed in order, without a code: no frame was malformed
  expect(heard.map(({ data, binary }) => (binary ? data.length : data.toString()))).toEqual(['first', ...lengths, 'last']);
  for (const [n, message] of messages.entries()) expect(heard[n + 1]!.data.equals(message)).toBe(true);
});
