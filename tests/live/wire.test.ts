import { once } from 'node:events';
import type { AddressInfo } from 'node:net';
import { expect, it } from 'vitest';
import { WebSocket, WebSocketServer } from 'ws';
import { frameOf } from '@/lib/live/wire';

const bytes = (length: number) => Uint8Array.from({ length }, (_, n) => n % 251);

// RFC 6455 § 5.7: "256 bytes binary message in a single unmasked frame: 0x82 0x7E 0x0100", "64KiB …: 0x82 0x7F 0x0000000000010000";
// § 5.2: up to 125 bytes the length stands in the second byte.
it.each([
  [0, '8200'],
  [125, '827d'],
  [126, '827e007e'],
  [256, '827e0100'],
  [65_535, '827effff'],
  [65_536, '827f0000000000010000'],
])('a message of %i bytes is one frame with the head %s', (length, head) => {
  const frame = frameOf(bytes(length));
  expect(frame.subarray(0, frame.length - length).toString('hex')).toBe(head);
  expect(Buffer.compare(frame.subarray(frame.length - length), bytes(length))).toBe(0);
});

it('frames go between those that the library makes, and are read as what they are', async () => {
  const server = new WebSocketServer({ port: 0, host: '127.0.0.1', perMessageDeflate: false });
  const lengths = [0, 1, 125, 126, 5000, 65_535, 65_536, 300_000];
  server.on('connection', (socket, request) => {
    for (const length of lengths) {
      request.socket.write(frameOf(bytes(length)));
      socket.send(bytes(length));
    }
    socket.close(1000);
  });
  await once(server, 'listening');
  const { port } = server.address() as AddressInfo;
  const client = new WebSocket(`ws://127.0.0.1:${port}`);
  const received: Buffer[] = [];
  client.on('message', (data, binary) => binary && received.push(data as Buffer));
  const code = await new Promise((resolve) => client.on('close', resolve));
  server.close();
  expect(code).toBe(1000);
  expect(received.map((data) => data.length)).toEqual(lengths.flatMap((length) => [length, length]));
  for (const data of received) expect(Buffer.compare(data, bytes(data.length))).toBe(0);
});
