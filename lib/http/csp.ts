/** Security headers of every response. */
export interface PolicyOptions {
  /** Lets the framework's own inline scripts run; absent on still pages, which have none. */
  nonce?: string;
  /** Origin of the sockets, `ws://…`: not every browser counts it as 'self'. */
  socket?: string;
  /** The development server evaluates code and writes inline styles. */
  dev?: boolean;
}

export function contentSecurityPolicy({ nonce, socket, dev }: PolicyOptions): string {
  const scripts = [
    "'self'",
    ...(nonce && !dev ? [`'nonce-${nonce}'`, "'strict-dynamic'"] : []),
    ...(dev ? ["'unsafe-eval'", "'unsafe-inline'"] : []),
  ];
  const policy = {
    'default-src': ["'none'"],
    'script-src': scripts,
    'style-src': ["'self'", ...(dev ? ["'unsafe-inline'"] : nonce ? [`'nonce-${nonce}'`] : [])],
    'img-src': ["'self'", 'data:', 'blob:'],
    'font-src': ["'self'"],
    'connect-src': ["'self'", ...(socket ? [socket] : [])],
    'manifest-src': ["'self'"],
    'worker-src': ["'self'"],
    'form-action': ["'self'"],
    'base-uri': ["'none'"],
    'frame-ancestors': ["'none'"],
    'object-src': ["'none'"],
  };
  return Object.entries(policy)
    .map(([name, values]) => `${name} ${values.join(' ')}`)
    .join('; ');
}

export function securityHeaders(baseUrl: string): Record<string, string> {
  return {
    'x-content-type-options': 'nosniff',
    'referrer-policy': 'same-origin',
    'permissions-policy': 'camera=(self), screen-wake-lock=(self), microphone=(), geolocation=(), payment=()',
    'cross-origin-opener-policy': 'same-origin',
    ...(baseUrl.startsWith('https:') ? { 'strict-transport-security': 'max-age=31536000' } : {}),
  };
}

/** Whether it is behind a customer's link. */
export const isReport = (path: string) => path.startsWith('/report/');

/** Over those of every response: in no index, in no cache, and the address, which opens it, is told to nobody. */
export const reportHeaders: Record<string, string> = {
  'x-robots-tag': 'noindex, nofollow, noarchive',
  'referrer-policy': 'no-referrer',
  'cache-control': 'no-store',
};
