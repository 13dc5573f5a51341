import { describe, expect, test } from 'vitest';
import { contentSecurityPolicy, type PolicyOptions, securityHeaders } from '@/lib/http/csp';

const read = (options: PolicyOptions) =>
  Object.fromEntries(
    contentSecurityPolicy(options)
      .split('; ')
      .map((directive) => [directive.slice(0, directive.indexOf(' ')), directive.slice(directive.indexOf(' ') + 1)]),
  );

// Directives: W3C CSP Level 3. object-src, base-uri, frame-ancestors, nonces: OWASP ASVS 5.0, 3.4.3 and 3.4.6.
const still = {
  'default-src': "'none'",
  'script-src': "'self'",
  'style-src': "'self'",
  'img-src': "'self' data: blob:",
  'font-src': "'self'",
  'connect-src': "'self'",
  'form-action': "'self'",
  'base-uri': "'none'",
  'frame-ancestors': "'none'",
  'object-src': "'none'",
  'manifest-src': "'self'",
  'worker-src': "'self'",
};

describe('the content security policy', () => {
  test('of a still page allows no inline script or style and no other host', () => {
    expect(read({})).toEqual(still);
  });

  test('with a nonce lets in what carries it, and what that loads', () => {
    expect(read({ nonce: 'bm9uY2U=' })).toEqual({
      ...still,
      'script-src': "'self' 'nonce-bm9uY2U=' 'strict-dynamic'",
      'style-src': "'self' 'nonce-bm9uY2U='",
    });
  });

  test('names the sockets’ origin', () => {
    expect(read({ socket: 'wss://notebook.club.example' })).toEqual({ ...still, 'connect-src': "'self' wss://notebook.club.example" });
  });

  test('loosens scripts and styles for the development server only', () => {
    expect(contentSecurityPolicy({ nonce: 'bm9uY2U=', socket: 'ws://127.0.0.1:3000' })).not.toContain('unsafe');
    expect(read({ nonce: 'bm9uY2U=', dev: true })).toEqual({
      ...still,
      'script-src': "'self' 'unsafe-eval' 'unsafe-inline'", // a nonce beside it would switch 'unsafe-inline' off
      'style-src': "'self' 'unsafe-inline'",
    });
  });
});

describe('security headers', () => {
  const over = (baseUrl: string) => new Headers(securityHeaders(baseUrl));

  test('stand on every response', () => {
    const headers = over('http://127.0.0.1:3000');
    expect(headers.get('x-content-type-options')).toBe('nosniff');
    expect(headers.get('referrer-policy')).toBe('same-origin');
    expect(headers.get('cross-origin-opener-policy')).toBe('same-origin');
    const features = headers.get('permissions-policy')?.split(', ');
    expect(features).toContain('camera=(self)');
    expect(features).toContain('screen-wake-lock=(self)');
    expect(features?.filter((f) => !f.endsWith('=(self)')).every((f) => f.endsWith('=()'))).toBe(true);
  });

  test('promise TLS for a year or more, and only over TLS', () => {
    expect(over('http://notebook.club.example').get('strict-transport-security')).toBeNull();
    const age = /^max-age=(\d+)/.exec(over('https://notebook.club.example').get('strict-transport-security') ?? '')?.[1];
    expect(Number(age)).toBeGreaterThanOrEqual(365 * 24 * 60 * 60); // OWASP ASVS 5.0, 3.4.1
  });
});
