/**
 * AWS Signature Version 4 as a server checks it, written from its description with node's crypto alone; shares nothing with the client.
 */
import { createHash, createHmac, timingSafeEqual } from 'node:crypto';

export interface Signed {
  method: string;
  path: string; // as it stands in the request line, without the query
  query: string;
  headers: Record<string, string>; // lower-case names
}
const sha256 = (data: string | Uint8Array) => createHash('sha256').update(data).digest('hex');
const hmac = (key: string | Buffer, text: string) => createHmac('sha256', key).update(text).digest();

interface Named {
  key: string;
  day: string;
  region: string;
  service: string;
  signed: string[];
  signature: string;
}
export function readAuthorization(value: string): Named | null {
  const found =
    /^AWS4-HMAC-SHA256 Credential=([^/]+)\/(\d{8})\/([^/]+)\/([^/]+)\/aws4_request, ?SignedHeaders=([^,]+), ?Signature=([0-9a-f]{64})$/.exec(
      value,
    );
  if (!found) return null;
  const [, key = '', day = '', region = '', service = '', signed = '', signature = ''] = found;
  return { key, day, region, service, signed: signed.split(';'), signature };
}

export function signatureOf(request: Signed, secret: string, { day, region, service, signed }: Omit<Named, 'key' | 'signature'>): string {
  const query = request.query
    .split('&')
    .filter(Boolean)
    .sort()
    .map((pair) => (pair.includes('=') ? pair : `${pair}=`))
    .join('&');
  const canonical = [
    request.method,
    request.path,
    query,
    ...signed.map((name) => `${name}:${(request.headers[name] ?? '').trim().replace(/ +/g, ' ')}`),
    '',
    signed.join(';'),
    request.headers['x-amz-content-sha256'] ?? '',
  ].join('\n');
  const toSign = ['AWS4-HMAC-SHA256', request.headers['x-amz-date'], `${day}/${region}/${service}/aws4_request`, sha256(canonical)].join(
    '\n',
  );
  const key = hmac(hmac(hmac(hmac(`AWS4${secret}`, day), region), service), 'aws4_request');
  return hmac(key, toSign).toString('hex');
}

/** Why a request is refused; null when it is signed by who holds the secret, and its body is the one that was signed. */
export function fault(
  request: Signed,
  body: Uint8Array,
  { key, secret, region }: { key: string; secret: string; region: string },
  now = Date.now(),
) {
  const named = readAuthorization(request.headers.authorization ?? '');
  if (!named) return 'no signature';
  if (named.key !== key || named.region !== region || named.service !== 's3') return 'another key, region or service';
  for (const must of ['host', 'x-amz-content-sha256', 'x-amz-date']) if (!named.signed.includes(must)) return `${must} is not signed`;
  const date = request.headers['x-amz-date'] ?? '';
  const at = Date.parse(date.replace(/^(\d{4})(\d\d)(\d\d)T(\d\d)(\d\d)(\d\d)Z$/, '$1-$2-$3T$4:$5:$6Z'));
  if (!date.startsWith(named.day) || !(Math.abs(now - at) < 15 * 60_000)) return 'of another time';
  if (request.headers['x-amz-content-sha256'] !== sha256(body)) return 'the body is not the one that was signed';
  const ours = Buffer.from(signatureOf(request, secret, named), 'hex');
  return timingSafeEqual(ours, Buffer.from(named.signature, 'hex')) ? null : 'the signature does not fit';
}
