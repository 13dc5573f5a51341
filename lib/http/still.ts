/**
 * Still pages: server-rendered HTML without the framework's client runtime.
 *
 * A page for reading holds no client component that must wake up, so the 130 kB that would hydrate it are left out of the response:
 * every script but those marked `data-keep` is removed, and what remains works with scripts switched off. Routes that do need the
 * runtime (the live editor) are not still.
 */
import type { IncomingMessage, ServerResponse } from 'node:http';
import { gzipSync } from 'node:zlib';

/** Only the live editor, the entry of charts and pinning on photos need the runtime. */
export const isStill = (path: string) => !/^\/(pages\/[^/]+\/write|(machines|designs)\/[^/]+\/(enter|photos\/[^/]+\/pin))\/?$/.test(path);

// A quoted value may hold “>” (WHATWG HTML § 13.2.5); what a script says is no tag.
const inTag = `(?=[\\s/>])((?:"[^"]*"|'[^']*'|[^>"'])*)>`;
const element = new RegExp(`<script${inTag}[\\s\\S]*?</script(?=[\\s/>])[^>]*>|<link${inTag}`, 'gi');
const attribute = /([^\s"'=/]+)(?:\s*=\s*(?:"([^"]*)"|'([^']*)'|([^\s"']+)))?/g;
const attributesOf = (text: string) =>
  new Map([...text.matchAll(attribute)].map(([, name = '', ...values]) => [name.toLowerCase(), values.find((v) => v) ?? '']));

/** HTML without the framework's scripts and their preloads. */
export const stripRuntime = (html: string) =>
  html.replace(element, (whole, ofScript?: string, ofLink?: string) => {
    const attributes = attributesOf(ofScript ?? ofLink ?? '');
    const runtime =
      ofScript === undefined
        ? attributes.get('as') === 'script' || attributes.get('rel') === 'modulepreload'
        : !attributes.has('data-keep');
    return runtime ? '' : whole;
  });

/** Whether an Accept-Encoding names gzip with a weight other than 0 (RFC 9110 § 12.5.3). */
export const takesGzip = (accepted: string | string[] | undefined) =>
  String(accepted ?? '')
    .split(',')
    .some((each) => /^\s*gzip\s*(;\s*q=(?!0(\.0*)?\s*$)|$)/i.test(each));

/** The framework leaves these to its client runtime: it sends an empty body and fills it in by script. */
const isEmptyShell = (html: string) => html.includes('<html id="__next_error__"');

/**
 * Makes the response still: HTML is collected, stripped, compressed and sent whole; anything else passes through untouched. An error
 * that would need the runtime to be seen is replaced by `instead(status)`.
 */
export function keepStill(request: IncomingMessage, response: ServerResponse, instead: (status: number) => string | null = () => null) {
  const gzip = takesGzip(request.headers['accept-encoding']);
  delete request.headers['accept-encoding']; // the framework would compress before we can read
  const chunks: Buffer[] = [];
  const plain = {
    write: response.write.bind(response),
    end: response.end.bind(response),
    flushHeaders: response.flushHeaders.bind(response),
    implicitHeader: (response as unknown as { _implicitHeader(): void })._implicitHeader.bind(response),
  };
  // What has a head already can't be changed any more.
  const isHtml = () => !response.headersSent && String(response.getHeader('content-type') ?? '').startsWith('text/html');
  const take = (chunk: unknown, encoding: unknown) => {
    if (typeof chunk === 'string') chunks.push(Buffer.from(chunk, typeof encoding === 'string' ? (encoding as BufferEncoding) : 'utf8'));
    else if (chunk instanceof Uint8Array) chunks.push(Buffer.from(chunk));
  };
  const done = (args: unknown[]) => args.find((a): a is () => void => typeof a === 'function');

  // The framework sends the head before the first byte of the body; ours waits until the body is whole.
  response.flushHeaders = () => {
    if (!isHtml()) plain.flushHeaders();
  };
  (response as unknown as { _implicitHeader(): void })._implicitHeader = () => {
    if (!isHtml()) plain.implicitHeader();
  };
  response.write = ((...args: unknown[]) => {
    if (!isHtml()) return plain.write(...(args as Parameters<typeof plain.write>));
    take(args[0], args[1]);
    done(args)?.();
    return true;
  }) as typeof response.write;
  response.end = ((...args: unknown[]) => {
    Reflect.deleteProperty(response, '_implicitHeader');
    if (!isHtml()) return plain.end(...(args as Parameters<typeof plain.end>));
    take(args[0], args[1]);
    const whole = Buffer.concat(chunks).toString('utf8');
    const shown = isEmptyShell(whole) ? (instead(response.statusCode) ?? whole) : whole;
    const html = Buffer.from(stripRuntime(shown));
    const body = gzip ? gzipSync(html) : html;
    response.removeHeader('transfer-encoding');
    response.removeHeader('etag');
    response.removeHeader('link'); // hints at fonts and styles, and in time at scripts
    if (gzip) response.setHeader('content-encoding', 'gzip');
    response.setHeader('vary', 'accept-encoding, cookie');
    const head = request.method === 'HEAD';
    if (head && !chunks.length)
      response.removeHeader('content-length'); // nobody made the body that it would measure
    else response.setHeader('content-length', body.length);
    return plain.end(head ? undefined : body, done(args));
  }) as typeof response.end;
}
