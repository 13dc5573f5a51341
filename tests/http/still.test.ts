import { createServer, type IncomingHttpHeaders, type IncomingMessage, request, type Server, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { gunzipSync } from 'node:zlib';
import { afterEach, describe, expect, test } from 'vitest';
import { isStill, keepStill, stripRuntime } from '@/lib/http/still';

describe('a still page', () => {
  test.each([
    ['/', true],
    ['/pages', true],
    ['/pages/k3n5q8r2t7w9', true],
    ['/pages/k3n5q8r2t7w9/print', true],
    ['/machines/write', true],
    ['/machines/new', true],
    ['/machines/lantern-regatta-3', true],
    ['/machines/lantern-regatta-3/enter', false],
    ['/designs/SB-2/enter', false],
    ['/pages/write', true],
    ['/pages/k3n5q8r2t7w9/write', false],
    ['/pages/k3n5q8r2t7w9/write/', false],
    ['/pages/k3n5q8r2t7w9/write/more', true],
    ['/x/pages/k3n5q8r2t7w9/write', true],
  ])('%s: %s', (path, still) => {
    expect(isStill(path)).toBe(still);
  });
});

// How a script begins and ends, and what its attributes may hold: WHATWG HTML § 13.2.5 (tokenisation) and § 4.12.1.
describe('what is taken out', () => {
  test.each([
    ['a script with a source', '<script src="/_next/a.js" async=""></script>'],
    ['a script with text', '<script>self.__next_f.push([1,"a<b"])</script>'],
    ['text over several lines', '<script>\nlet a = 1;\n</script>'],
    ['an attribute with a “>” in its value', '<script data-a="x>y" src="/a.js">go()</script>'],
    ['single quotes', "<script data-a='x>y'>go()</script>"],
    ['capitals', '<SCRIPT SRC="/a.js"></SCRIPT>'],
    ['a space in the end tag', '<script>go()</script >'],
    ['a name that only begins like the mark', '<script data-keep-not="">go()</script>'],
    ['the mark inside another value', '<script src="/data-keep.js"></script>'],
    ['the mark as a word of another value', '<script title="a data-keep b" src="/a.js"></script>'],
    ['the mark in its text', '<script>let s = "<p data-keep>";</script>'],
    ['a preload', '<link rel="preload" as="script" fetchPriority="low" href="/a.js"/>'],
    ['a preload, the other way round', "<link href='/a.js' as='script' rel=preload>"],
    ['a preload without quotes', '<link rel=preload as=script href=/a.js>'],
    ['a preload of a module', '<link rel="modulepreload" href="/a.js">'],
  ])('%s', (_, html) => {
    expect(stripRuntime(`<p>before</p>${html}<p>after</p>`)).toBe('<p>before</p><p>after</p>');
  });

  test('and one after the other, without what stands between', () => {
    expect(stripRuntime('<script>a</script>b<script src="c"></script>d<script>e</script>')).toBe('bd');
  });
});

describe('what stays', () => {
  test.each([
    ['a marked script', '<script data-keep="" src="/enhance.js" defer=""></script>'],
    ['the mark at the end, without a value', '<script src="/enhance.js" data-keep></script>'],
    ['the mark after a “>” in a value', '<script data-a="x>y" data-keep="">go()</script>'],
    ['a marked script that speaks of scripts', '<script data-keep="">let s = "<script>";</script>'],
    ['styles and their preloads', '<link rel="preload" as="style" href="/a.css"><link rel="stylesheet" href="/a.css">'],
    ['a preload of a font', '<link rel="preload" as="font" href="/script.woff2">'],
    ['a link to a file about scripts', '<link rel="icon" href="/as/script.svg" title="as=script">'],
    ['an element whose name begins alike', '<script-note>kept</script-note>'],
    ['text that speaks of scripts', '<p>&lt;script&gt;go()&lt;/script&gt;</p>'],
  ])('%s', (_, html) => {
    expect(stripRuntime(`<script>a</script>${html}<script>b</script>`)).toBe(html);
  });

  // A search that starts over at every opening would run into the time limit of the runner.
  test('long text without an end stays as it is', () => {
    const open = '<script a="'.repeat(2000) + '<link '.repeat(2000);
    expect(stripRuntime(open)).toBe(open);
  });
});

let server: Server | undefined;
afterEach(() => server?.close());

interface Answer {
  status: number;
  headers: IncomingHttpHeaders;
  body: Buffer;
}
/** What a client gets from a handler whose response is kept still. */
async function ask(
  handle: (response: ServerResponse, request: IncomingMessage) => void,
  { method = 'GET', accept, instead }: { method?: string; accept?: string; instead?: (status: number) => string | null } = {},
): Promise<Answer> {
  const listening = createServer((incoming, response) => {
    keepStill(incoming, response, instead);
    handle(response, incoming);
  });
  server = listening;
  await new Promise<void>((resolve) => listening.listen(0, '127.0.0.1', resolve));
  return new Promise((resolve, reject) => {
    const { port } = listening.address() as AddressInfo;
    const headers = accept === undefined ? {} : { 'accept-encoding': accept };
    request({ host: '127.0.0.1', port, method, headers, agent: false }, (answer) => {
      const chunks: Buffer[] = [];
      answer.on('data', (chunk: Buffer) => chunks.push(chunk));
      answer.on('end', () => resolve({ status: answer.statusCode ?? 0, headers: answer.headers, body: Buffer.concat(chunks) }));
      answer.on('error', reject);
    })
      .on('error', reject)
      .end();
  });
}

const page = '<p>Lantern Regatta no. 3 — Ω</p><script>go()</script>';
const stripped = '<p>Lantern Regatta no. 3 — Ω</p>';
const html = (response: ServerResponse) => response.setHeader('content-type', 'text/html; charset=utf-8');
const send = (response: ServerResponse) => {
  html(response);
  response.end(page);
};

describe('a response with HTML', () => {
  test('is collected, stripped and sent whole, with its true length', async () => {
    const answer = await ask((response) => {
      response.statusCode = 404;
      html(response);
      response.setHeader('etag', '"of the unstripped"');
      response.setHeader('link', '</a.js>; rel=preload; as=script');
      response.flushHeaders();
      response.write(page.slice(0, 20));
      response.end(page.slice(20));
    });
    expect(answer.status).toBe(404);
    expect(answer.body.toString()).toBe(stripped);
    expect(answer.headers['content-length']).toBe(String(Buffer.byteLength(stripped)));
    for (const name of ['etag', 'link', 'transfer-encoding', 'content-encoding']) expect(answer.headers[name], name).toBeUndefined();
  });

  test('may come in any pieces: split letters, other encodings, bytes, callbacks', async () => {
    const called: string[] = [];
    const bytes = Buffer.from(page);
    const answer = await ask((response) => {
      html(response);
      for (const byte of bytes) response.write(Uint8Array.of(byte));
      response.write(Buffer.from('<i>a</i>').toString('hex'), 'hex', () => called.push('write'));
      response.write('<b>é</b>', 'latin1');
      response.write('', () => called.push('empty'));
      response.end(() => called.push('end'));
    });
    expect(answer.body).toEqual(Buffer.concat([Buffer.from(`${stripped}<i>a</i>`), Buffer.from('<b>�</b>')]));
    expect(called).toEqual(['write', 'empty', 'end']);
  });

  test('may be large: what is cut between two pieces is found', async () => {
    const cell = '<td>A3J4-7</td><script>self.push("x")</script>';
    const whole = Buffer.from(cell.repeat(40_000));
    const answer = await ask((response) => {
      html(response);
      for (let at = 0; at < whole.length; at += 9_973) response.write(whole.subarray(at, at + 9_973));
      response.end();
    });
    expect(answer.body.toString()).toBe('<td>A3J4-7</td>'.repeat(40_000));
    expect(answer.headers['content-length']).toBe(String(answer.body.length));
  });
});

// Accept-Encoding and its weights: RFC 9110 § 12.5.3 and § 12.4.2. Vary: § 12.5.5.
describe('compression', () => {
  test.each(['gzip', 'br, gzip', 'gzip, deflate, br', 'deflate, gzip;q=0.5', 'GZIP'])('%s: packed', async (accept) => {
    const answer = await ask(send, { accept });
    expect(answer.headers['content-encoding']).toBe('gzip');
    expect(answer.headers['content-length']).toBe(String(answer.body.length));
    expect(answer.headers.vary).toContain('accept-encoding');
    expect(gunzipSync(answer.body).toString()).toBe(stripped);
  });

  test.each([undefined, '', 'br', 'identity', 'gzip;q=0', 'br, gzip; q=0.0', 'gzipped'])('%s: plain', async (accept) => {
    const answer = await ask(send, { ...(accept === undefined ? {} : { accept }) });
    expect(answer.headers['content-encoding']).toBeUndefined();
    expect(answer.headers.vary).toContain('accept-encoding');
    expect(answer.body.toString()).toBe(stripped);
  });

  test('is not left to the framework, whose bytes could not be read', async () => {
    let seen: string | undefined = 'unasked';
    const look = (response: ServerResponse, incoming: IncomingMessage) => {
      seen = incoming.headers['accept-encoding'] as string | undefined;
      send(response);
    };
    await ask(look, { accept: 'gzip' });
    expect(seen).toBeUndefined();
  });
});

// RFC 9110 § 8.6 and § 9.3.2: a HEAD answer has no content, and a Content-Length only when it is that of the GET.
describe('HEAD', () => {
  test('has the head of GET and no body', async () => {
    const [get, head] = [await ask(send, { accept: 'gzip' }), await ask(send, { accept: 'gzip', method: 'HEAD' })];
    expect(head.body).toHaveLength(0);
    const timeless = ({ date: _, ...rest }: IncomingHttpHeaders) => rest;
    expect(timeless(head.headers)).toEqual(timeless(get.headers));
  });

  test('of a handler that makes no body claims no length', async () => {
    const answer = await ask(
      (response) => {
        html(response);
        response.end();
      },
      { accept: 'gzip', method: 'HEAD' },
    );
    expect(answer.body).toHaveLength(0);
    expect(answer.headers['content-length']).toBeUndefined();
  });
});

describe('anything else', () => {
  test('passes through untouched, piece by piece', async () => {
    const answer = await ask(
      (response) => {
        response.setHeader('content-type', 'application/json');
        response.setHeader('etag', '"kept"');
        response.setHeader('link', '</a>; rel=next');
        response.write('{"html":"<script>go()</script>",');
        response.end('"b":1}');
      },
      { accept: 'gzip' },
    );
    expect(answer.body.toString()).toBe('{"html":"<script>go()</script>","b":1}');
    expect(answer.headers).toMatchObject({ etag: '"kept"', link: '</a>; rel=next', 'transfer-encoding': 'chunked' });
    expect(answer.headers['content-encoding']).toBeUndefined();
    expect(answer.headers['content-length']).toBeUndefined();
  });

  test('is not held back: the first piece arrives before the last is made', async () => {
    let finish = () => {};
    const listening = createServer((incoming, response) => {
      keepStill(incoming, response);
      response.setHeader('content-type', 'text/plain');
      response.flushHeaders();
      response.write('first');
      finish = () => response.end('last');
    });
    server = listening;
    await new Promise<void>((resolve) => listening.listen(0, '127.0.0.1', resolve));
    const { port } = listening.address() as AddressInfo;
    const answer = await fetch(`http://127.0.0.1:${port}/`);
    const reader = answer.body?.getReader();
    expect(Buffer.from((await reader?.read())?.value ?? '').toString()).toBe('first');
    finish();
    expect(Buffer.from((await reader?.read())?.value ?? '').toString()).toBe('last');
  });

  test('also a redirect and an answer without content', async () => {
    const redirect = await ask((response) => response.writeHead(303, { location: '/pages' }).end(), { method: 'POST' });
    expect([redirect.status, redirect.headers.location]).toEqual([303, '/pages']);
    const fresh = await ask((response) => {
      response.statusCode = 304;
      response.end();
    });
    expect([fresh.status, fresh.headers['content-length']]).toEqual([304, undefined]);
  });

  test('also HTML whose head the handler has sent itself: its length can’t be changed any more', async () => {
    const answer = await ask((response) => {
      response.setHeader('x-content-type-options', 'nosniff');
      response.writeHead(400, { 'content-type': 'text/html', 'content-length': Buffer.byteLength(page) });
      response.end(page);
    });
    expect(answer.status).toBe(400);
    expect(answer.body.toString()).toBe(page);
  });
});

test('an error that only the runtime would show is replaced, by status; any other page is not', async () => {
  const shell = '<!DOCTYPE html><html id="__next_error__"><head></head><body><div hidden=""></div><script>fill()</script></body></html>';
  const instead = (status: number) => (status === 404 ? '<html><body>Not here</body></html>' : null);
  const answerTo = (status: number, html: string) =>
    ask(
      (response) => {
        response.statusCode = status;
        response.setHeader('content-type', 'text/html; charset=utf-8');
        response.end(html);
      },
      { instead },
    );
  const missing = await answerTo(404, shell);
  expect([missing.status, missing.body.toString()]).toEqual([404, '<html><body>Not here</body></html>']);
  expect((await answerTo(500, shell)).body.toString()).toBe(shell.replace('<script>fill()</script>', ''));
  expect((await answerTo(404, '<html><body>ours</body></html>')).body.toString()).toBe('<html><body>ours</body></html>');
});
