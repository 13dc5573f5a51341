import { describe, expect, test } from 'vitest';
import { sameOrigin } from '@/lib/http/origin';

const base = 'https://notebook.club.example';
const host = 'notebook.club.example';

// Origin: RFC 6454 § 7; Sec-Fetch-Site: W3C Fetch Metadata. Rule: OWASP ASVS 5.0, 3.5.1 and 4.4.2.
const table: [what: string, headers: Record<string, string>, baseUrl: string, ours: boolean][] = [
  ['the address that members type', { origin: base, host }, base, true],
  ['… also where a proxy changes the Host', { origin: base, host: '10.0.0.5:3000' }, base, true],
  ['the very host that was asked', { origin: 'http://localhost:3000', host: 'localhost:3000' }, 'http://127.0.0.1:3000', true],
  ['another site', { origin: 'https://elsewhere.example', host }, base, false],
  ['another site that says same-origin', { origin: 'https://elsewhere.example', host, 'sec-fetch-site': 'same-origin' }, base, false],
  ['a sister host', { origin: 'https://club.example', host }, base, false],
  ['a host that only begins like ours', { origin: 'https://notebook.club.example.elsewhere.example', host }, base, false],
  ['another port', { origin: `${base}:8443`, host }, base, false],
  ['another scheme', { origin: `http://${host}`, host }, base, false],
  ['our address with a path', { origin: `${base}/x`, host: 'other' }, base, false],
  ['an opaque origin', { origin: 'null', host, 'sec-fetch-site': 'same-origin' }, base, false],
  ['an empty origin', { origin: '', host, 'sec-fetch-site': 'same-origin' }, base, false],
  ['no origin, but the browser vouches', { host, 'sec-fetch-site': 'same-origin' }, base, true],
  ['no origin, same site only', { host, 'sec-fetch-site': 'same-site' }, base, false],
  ['no origin, typed by hand', { host, 'sec-fetch-site': 'none' }, base, false],
  ['no origin, cross-site', { host, 'sec-fetch-site': 'cross-site' }, base, false],
  ['nothing at all', { host }, base, false],
  ['a referer is no origin', { host, referer: `${base}/pages` }, base, false],
];

describe('same origin', () => {
  test.each(table)('%s', (_, headers, baseUrl, ours) => {
    expect(sameOrigin(new Headers(headers), baseUrl)).toBe(ours);
    expect(sameOrigin(headers, baseUrl)).toBe(ours); // as a socket’s request has them
  });

  test('of several Origin headers none is believed', () => {
    const headers = new Headers({ host });
    headers.append('origin', base);
    headers.append('origin', 'https://elsewhere.example');
    expect(sameOrigin(headers, base)).toBe(false);
    expect(sameOrigin({ host, origin: [base, 'https://elsewhere.example'] }, base)).toBe(false);
  });
});
