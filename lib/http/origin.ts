/** Whether a request was made by our own pages. */
type Plain = Record<string, string | string[] | undefined>;
const one = (headers: Headers | Plain, name: string): string | null => {
  if (headers instanceof Headers) return headers.get(name);
  const value = headers[name];
  return Array.isArray(value) ? value.join(', ') : (value ?? null); // several are no origin of ours
};

/**
 * True when the Origin is the address that members type, or the very host that was asked. A request without an Origin is not ours,
 * unless the browser says that it comes from the same origin.
 */
export function sameOrigin(headers: Headers | Plain, baseUrl: string): boolean {
  const origin = one(headers, 'origin');
  if (origin === null) return one(headers, 'sec-fetch-site') === 'same-origin';
  if (origin === new URL(baseUrl).origin) return true;
  if (!URL.canParse(origin)) return false;
  const asked = new URL(origin);
  return asked.host === one(headers, 'host') && asked.protocol === new URL(baseUrl).protocol;
}
