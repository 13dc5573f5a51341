/**
 * Still pages: server-rendered HTML without the framework's client runtime.
 *
 * A page for reading holds no client component that must wake up, so the 130 kB that would hydrate it are left out of the response:
 * every script but those marked `data-keep` is removed, and what remains works with scripts switched off. Routes that do need the
 * runtime (the live editor) are not still.
 */
import type { IncomingMessage, ServerResponse } from 'node:http';
import { gzipSync } from 'node:zlib';

/** Only the live editor needs the runtime. */
export const isStill = (path: string) => !/^\/pages\/[^/]+\/write\/?$/.test(path);

const script = /<script\b(?![^>]*\bdata-keep\b)[^>]*>[\s\S]*?<\/script>/g;
const preload = /<link\b[^>]*\bas="script"[^>]*>/g;

/** HTML without the framework's scripts and their preloads. */
export const stripRuntime = (html: string) => html.replace(script, '').replace(preload, '');

/** Makes the response still: HTML is collected, stripped, compressed and sent whole; anything else passes through untouched. */
export function keepStill(request: IncomingMessage, response: ServerResponse) {
  const gzip = /\bgzip\b/.test(String(request.headers['accept-encoding'] ?? ''));
  delete request.headers['accept-encoding']; // the framework would compress before we can read
  const chunks: Buffer[] = [];
  const write = response.write.bind(response);
  const end = response.end.bind(response);
  const isHtml = () => String(response.getHeader('content-type') ?? '').startsWith('text/html');
  const take = (chunk: unknown, encoding?: unknown) => {
    if (chunk === undefined || chunk === null || typeof chunk === 'function') return;
    chunks.push(
      typeof chunk === 'string'
        ? Buffer.from(chunk, typeof encoding === 'string' ? (encoding as BufferEncoding) : 'utf8')
        : Buffer.from(chunk as Uint8Array),
    );
  };
  const done = (args: unknown[]) => args.find((a): a is () => void => typeof a === 'function');

  response.flushHeaders = () => {};
  response.write = ((...args: unknown[]) => {
    if (!isHtml()) return write(...(args as Parameters<typeof write>));
    take(args[0], args[1]);
    done(args)?.();
    return true;
  }) as typeof response.write;
  response.end = ((...args: unknown[]) => {
    if (!isHtml() || response.headersSent) return end(...(args as Parameters<typeof end>));
    take(args[0], args[1]);
    const html = Buffer.from(stripRuntime(Buffer.concat(chunks).toString('utf8')));
    const body = gzip ? gzipSync(html) : html;
    response.removeHeader('transfer-encoding');
    response.removeHeader('etag');
    if (gzip) response.setHeader('content-encoding', 'gzip');
    response.setHeader('vary', 'accept-encoding, cookie');
    response.setHeader('content-length', body.length);
    return end(request.method === 'HEAD' ? undefined : body, done(args));
  }) as typeof response.end;
}
