import type { IncomingMessage } from 'node:http';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { clientAddress, clientHeader, noteClientAddress } from '@/lib/http/client-address';

// Addresses for examples: 192.0.2.0/24, 198.51.100.0/24, 203.0.113.0/24 (RFC 5737), 2001:db8::/32 (RFC 3849).
const socket = '192.0.2.1';

describe('the address that asks', () => {
  test('without a proxy of ours is the socket’s, whatever is claimed', () => {
    fc.assert(fc.property(fc.string(), (claim) => clientAddress(socket, claim, 0) === socket));
    fc.assert(fc.property(fc.ipV4(), fc.ipV4(), (a, b) => clientAddress(socket, `${a}, ${b}`, 0) === socket));
  });

  test('behind proxies of ours is what the outermost of them saw; claims further left never count', () => {
    const table: [forwarded: string, proxies: number, address: string][] = [
      ['198.51.100.7', 1, '198.51.100.7'],
      ['203.0.113.66, 198.51.100.7', 1, '198.51.100.7'],
      ['203.0.113.66,198.51.100.7 , 192.0.2.2', 2, '198.51.100.7'],
      ['', 1, socket],
      ['198.51.100.7', 2, socket], // came past a proxy
      ['unknown', 1, socket],
      ['198.51.100.7, ', 1, socket],
      ['198.51.100.7:4711', 1, '198.51.100.7'],
      ['::ffff:198.51.100.7', 1, '198.51.100.7'],
    ];
    for (const [forwarded, proxies, address] of table) expect(clientAddress(socket, forwarded, proxies)).toBe(address);
    fc.assert(
      fc.property(
        fc.array(fc.oneof(fc.ipV4(), fc.ipV6(), fc.stringMatching(/^[\w.:-]{0,20}$/))),
        (claims) => clientAddress(socket, [...claims, '198.51.100.7'].join(', '), 1) === '198.51.100.7',
      ),
    );
  });

  test('of IPv6 stands for its /64, however it is written', () => {
    const same = ['2001:db8:0:1::5', '2001:0DB8:0:1:aaaa:bbbb:cccc:dddd', '[2001:db8:0:1::5]:4711', '2001:db8:0:1::5%eth0'];
    for (const address of same) expect(clientAddress(address, '', 0)).toBe('2001:db8:0:1::/64');
    expect(clientAddress('2001:db8::1', '', 0)).toBe('2001:db8:0:0::/64');
    expect(clientAddress('2001:db8:1:2:3:4:5::', '', 0)).toBe('2001:db8:1:2::/64');
    expect(clientAddress('::1', '', 0)).toBe('0:0:0:0::/64');
    expect(clientAddress('::ffff:192.0.2.9', '', 0)).toBe('192.0.2.9');
  });

  test('is never taken from a header of that name which a client sent', () => {
    const headers: IncomingMessage['headers'] = { [clientHeader]: '203.0.113.66', 'x-forwarded-for': '203.0.113.67' };
    const request = { headers, socket: { remoteAddress: socket } } as unknown as IncomingMessage;
    noteClientAddress(request, 0);
    expect(headers[clientHeader]).toBe(socket);
    noteClientAddress(request, 1);
    expect(headers[clientHeader]).toBe('203.0.113.67');
    noteClientAddress({ headers, socket: {} } as unknown as IncomingMessage, 0);
    expect(headers[clientHeader]).toBe('unknown');
  });
});
