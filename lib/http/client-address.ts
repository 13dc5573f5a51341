/** Which address asks. Only what the socket says counts, and of X-Forwarded-For only what our own reverse proxies added. */
import type { IncomingMessage } from 'node:http';
import { isIPv4, isIPv6 } from 'node:net';

/** The header in which the server hands the address on. What a client sends under this name is overwritten. */
export const clientHeader = 'x-fettlebook-client';

/** Notes the address on the request, for the framework's handlers, which never see the socket. */
export function noteClientAddress(request: IncomingMessage, trustedProxies: number) {
  const forwarded = request.headers['x-forwarded-for'];
  request.headers[clientHeader] = clientAddress(
    request.socket.remoteAddress ?? '',
    Array.isArray(forwarded) ? forwarded.join(',') : (forwarded ?? ''),
    trustedProxies,
  );
}

/**
 * Each proxy adds the address it saw at the right of X-Forwarded-For; everything left of what ours added is the client's own claim.
 * Too few entries, or no address there: the socket's. An IPv6 address stands for its /64, which one subscriber holds whole (RFC 6177).
 */
export function clientAddress(socket: string, forwarded: string, trustedProxies: number): string {
  const entries = forwarded.split(',').map((entry) => entry.trim());
  const claimed = trustedProxies > 0 ? entries[entries.length - trustedProxies] : undefined;
  return (claimed && plain(claimed)) || plain(socket) || 'unknown';
}

/** Without port, brackets and zone; IPv4 in IPv6 as IPv4; null for anything that is no address. */
function plain(text: string): string | null {
  const bare = (/^\[([^\]]*)\](?::\d+)?$/.exec(text)?.[1] ?? text.replace(/^(\d+\.\d+\.\d+\.\d+):\d+$/, '$1')).replace(/%.*$/, '');
  const mapped = /^::ffff:(\d+\.\d+\.\d+\.\d+)$/i.exec(bare)?.[1] ?? bare;
  if (isIPv4(mapped)) return mapped;
  return isIPv6(mapped) ? network(mapped) : null;
}

function network(address: string): string {
  const canonical = new URL(`http://[${address}]`).hostname.slice(1, -1);
  const [head = '', tail] = canonical.split('::');
  const groups = (part: string) => (part ? part.split(':') : []);
  const missing = 8 - groups(head).length - groups(tail ?? '').length;
  const all = [...groups(head), ...(tail === undefined ? [] : Array<string>(missing).fill('0')), ...groups(tail ?? '')];
  return `${all.slice(0, 4).join(':')}::/64`;
}
