import { afterAll, afterEach, beforeAll, describe, expect, test, vi } from 'vitest';
import * as z from 'zod';
import { makeToken } from '@/lib/access/tokens';
import { endpoint, type Route } from '@/lib/http/endpoint';
import { problem } from '@/lib/http/problem';
import { browserOf, join } from '../access/house';
import { type TestDatabase, testDatabase } from '../store/cluster';

const base = 'http://127.0.0.1:3000';
let db: TestDatabase;
const tokens: Record<string, string> = {};
let browser: Headers;
beforeAll(async () => {
  db = await testDatabase();
  for (const [name, role] of [['Ines', 'owner'] as const, ['Tomas', 'editor'] as const, ['Wen', 'reader'] as const])
    tokens[role] = (await makeToken(await join(name, role), 'test')).token;
  browser = await browserOf('Tomas');
});
afterAll(() => db.close());
afterEach(() => vi.restoreAllMocks());

const handled = vi.fn();
const put = endpoint({
  method: 'PUT',
  path: '/api/things/{id}',
  summary: 'Keeps a thing',
  params: z.object({ id: z.string().regex(/^[a-z]+$/, 'use small letters') }),
  query: z.object({ times: z.coerce.number().int().min(1).default(1) }),
  body: z.object({ text: z.string().min(1), more: z.record(z.string(), z.unknown()).optional() }),
  response: z.object({ id: z.string(), text: z.string(), by: z.string(), times: z.number() }),
  action: 'write',
  thing: 'page',
  async handler({ member, params, query, body }) {
    handled(body);
    if (body.text === 'conflict') throw problem(409, 'Somebody was quicker.');
    if (body.text === 'crash') throw new Error('connection to 10.0.0.5 refused, password=hunter');
    const secret = { passwordHash: 'never shown' };
    return { id: params.id, text: body.text, by: member.name, times: query.times, ...secret };
  },
});
const get = endpoint({
  method: 'GET',
  path: '/api/things',
  summary: 'Says hello',
  response: z.object({ hello: z.string() }),
  action: 'read',
  thing: 'page',
  handler: async ({ member }) => ({ hello: member.name }),
});
const ping = endpoint({
  method: 'POST',
  path: '/api/ping',
  summary: 'Takes nothing',
  response: z.object({ pong: z.boolean() }),
  action: 'write',
  thing: 'page',
  handler: async () => ({ pong: true }),
});

const json = { 'content-type': 'application/json' };
interface Sent {
  headers?: Record<string, string>;
  body?: BodyInit | null;
  id?: string;
  query?: string;
}
async function ask(route: Route, { headers = {}, body, id = 'lamp', query = '' }: Sent = {}) {
  const { method } = route.endpoint;
  const request = new Request(`${base}${route.endpoint.path.replace('{id}', id)}${query}`, {
    method,
    headers: { host: '127.0.0.1:3000', ...headers },
    body: body ?? null,
    ...(body instanceof ReadableStream ? { duplex: 'half' } : {}),
  });
  const response = await route(request, { params: Promise.resolve({ id }) });
  return { status: response.status, headers: response.headers, body: (await response.json()) as Record<string, unknown> };
}
const as = (role: string) => ({ ...json, authorization: `Bearer ${tokens[role]}` });
const text = (value: unknown) => JSON.stringify(value);
const good = text({ text: 'hello' });
const cookie = () => ({ ...json, cookie: browser.get('cookie') ?? '' });

describe('who asks', () => {
  test('nobody gets 401 and is told how', async () => {
    for (const headers of [json, { ...json, authorization: 'Bearer fbk_made-up' }, { ...json, cookie: 'fettlebook=forged.x' }]) {
      const answer = await ask(put, { headers, body: good });
      expect(answer.status).toBe(401);
      expect(answer.headers.get('www-authenticate')).toBe('Bearer'); // RFC 9110 § 15.5.2
      expect(answer.headers.get('content-type')).toBe('application/problem+json'); // RFC 9457 § 3
      expect(answer.body).toEqual({ title: 'Sign in first', status: 401, detail: expect.stringContaining('access token') });
    }
    expect(handled).not.toHaveBeenCalled();
  });

  test('a reader may read and not write; an editor may both', async () => {
    expect(await ask(get, { headers: as('reader') })).toMatchObject({ status: 200, body: { hello: 'Wen' } });
    expect(await ask(put, { headers: as('reader'), body: good })).toMatchObject({
      status: 403,
      body: { status: 403, detail: 'As reader you may not write this.' },
    });
    expect(await ask(put, { headers: as('editor'), body: good })).toMatchObject({ status: 200, body: { by: 'Tomas' } });
  });

  test('is asked before anything is read', async () => {
    const read = vi.fn();
    const body = new ReadableStream({ pull: read }, { highWaterMark: 0 });
    expect((await ask(put, { headers: as('reader'), body })).status).toBe(403);
    expect(read).not.toHaveBeenCalled();
  });
});

describe('a browser’s write', () => {
  test('must come from our own pages', async () => {
    const ours: Record<string, string>[] = [{ origin: base }, { 'sec-fetch-site': 'same-origin' }];
    const foreign: Record<string, string>[] = [
      {},
      { origin: 'https://elsewhere.example' },
      { origin: 'null' },
      { 'sec-fetch-site': 'cross-site' },
    ];
    for (const from of ours) {
      expect((await ask(put, { headers: { ...cookie(), ...from }, body: good })).status).toBe(200);
      expect((await ask(ping, { headers: { cookie: cookie().cookie, ...from } })).status).toBe(200);
    }
    handled.mockClear();
    for (const from of foreign) {
      expect((await ask(put, { headers: { ...cookie(), ...from }, body: good })).status).toBe(403);
      expect((await ask(ping, { headers: { cookie: cookie().cookie, ...from } })).status).toBe(403);
    }
    expect(handled).not.toHaveBeenCalled();
  });

  test('with an access token needs no origin, since no browser adds it by itself; a cookie beside it counts for nothing', async () => {
    expect((await ask(put, { headers: { ...as('editor'), origin: 'https://elsewhere.example' }, body: good })).status).toBe(200);
    const both = { ...cookie(), authorization: 'Bearer fbk_made-up', origin: 'https://elsewhere.example' };
    expect((await ask(put, { headers: both, body: good })).status).toBe(401);
  });

  test('must be JSON: what a form can send is refused (OWASP ASVS 5.0, 3.5.2)', async () => {
    const forms = ['text/plain', 'application/x-www-form-urlencoded', 'multipart/form-data; boundary=x', 'text/plain; application/json'];
    for (const type of [...forms, 'application/json-seq', 'application/jsonx', '']) {
      const answer = await ask(put, { headers: { ...cookie(), origin: base, 'content-type': type }, body: good });
      expect(answer).toMatchObject({ status: 415, body: { detail: 'Send the body as application/json.' } });
    }
    for (const type of ['application/json; charset=utf-8', 'Application/JSON'])
      expect((await ask(put, { headers: { ...as('editor'), 'content-type': type }, body: good })).status).toBe(200);
  });
});

describe('what came', () => {
  test('is checked: address, query and body, each field with its mend', async () => {
    expect(await ask(put, { headers: as('editor'), body: good, id: 'Lamp1' })).toMatchObject({
      status: 404,
      body: { errors: [{ field: 'id', message: 'use small letters', mend: expect.stringContaining('id') }] },
    });
    expect(await ask(put, { headers: as('editor'), body: good, query: '?times=0' })).toMatchObject({
      status: 400,
      body: { title: 'That can’t be read', errors: [{ field: 'times', mend: 'Make times at least 1.' }] },
    });
    const answer = await ask(put, { headers: as('editor'), body: text({ text: 7 }) });
    expect(answer.status).toBe(422);
    expect(answer.body).toMatchObject({ title: 'Something to mend', errors: [{ field: 'text', mend: 'Give text as a string.' }] });
    expect(answer.body.detail).toContain('text: ');
    expect((await ask(put, { headers: as('editor'), body: '{}' })).body.errors).toEqual([
      { field: 'text', message: 'is missing', mend: 'Add text.' },
    ]);
    expect((await ask(put, { headers: as('editor'), body: '[]' })).body.errors).toMatchObject([{ field: 'body' }]);
    expect((await ask(put, { headers: as('editor'), body: good, query: '?times=3' })).body.times).toBe(3);
  });

  test('that is no JSON is named as such', async () => {
    for (const body of ['{"text": ', '', 'hello', "{'text':'x'}", `${good}x`]) {
      const answer = await ask(put, { headers: as('editor'), body });
      expect(answer.status).toBe(400);
      expect(answer.body.detail).toMatch(/^The body is no JSON: ./);
      expect(answer.body.errors).toMatchObject([{ field: 'body', mend: 'Send one JSON value, encoded in UTF-8.' }]);
    }
    const latin = await ask(put, { headers: as('editor'), body: Uint8Array.of(0x7b, 0x22, 0xe9, 0x22, 0x7d) });
    expect(latin.body.detail).toBe('The body is no JSON: it is not UTF-8');
  });

  test('is counted in real bytes, whatever Content-Length says, and not read to its end', async () => {
    const sized = (bytes: number) => `{"text":"${'x'.repeat(bytes - 11)}"}`;
    expect((await ask(put, { headers: as('editor'), body: sized(1_000_000) })).status).toBe(200);
    expect(await ask(put, { headers: as('editor'), body: sized(1_000_001) })).toMatchObject({
      status: 413,
      body: { detail: 'Keep the body to 1,000,000 bytes.' },
    });
    expect((await ask(put, { headers: as('editor'), body: `{"text":"${'é'.repeat(500_000)}"}` })).status).toBe(413);
    let sent = 0;
    const endless = new ReadableStream<Uint8Array>({
      pull(stream) {
        sent += 1;
        stream.enqueue(new Uint8Array(100_000));
      },
    });
    expect((await ask(put, { headers: { ...as('editor'), 'content-length': '10' }, body: endless })).status).toBe(413);
    expect(sent).toBeLessThan(20);
  });

  test('never reaches the prototypes of objects', async () => {
    handled.mockClear();
    const body = '{"text":"x","__proto__":{"polluted":1},"constructor":{"prototype":{"polluted":1}},"more":{"__proto__":{"polluted":1}}}';
    expect((await ask(put, { headers: as('editor'), body })).status).toBe(200);
    const came = handled.mock.calls[0]?.[0];
    expect(came.polluted).toBeUndefined();
    expect(came.more.polluted).toBeUndefined();
    expect(Object.keys(came)).toEqual(['text', 'more']);
    expect(({} as Record<string, unknown>).polluted).toBeUndefined();
  });
});

describe('what goes back', () => {
  test('is what the description says and nothing more, never kept by caches', async () => {
    const answer = await ask(put, { headers: as('editor'), body: good });
    expect(answer.body).toEqual({ id: 'lamp', text: 'hello', by: 'Tomas', times: 1 });
    expect(answer.headers.get('cache-control')).toBe('no-store');
    expect((await ask(get)).headers.get('cache-control')).toBe('no-store');
  });

  test('of a problem is the problem', async () => {
    expect(await ask(put, { headers: as('editor'), body: text({ text: 'conflict' }) })).toMatchObject({
      status: 409,
      body: { title: 'Changed meanwhile', status: 409, detail: 'Somebody was quicker.' },
    });
  });

  test('of a fault of ours says nothing of the inside, which goes to the log', async () => {
    const log = vi.spyOn(console, 'error').mockImplementation(() => {});
    const answer = await ask(put, { headers: as('editor'), body: text({ text: 'crash' }) });
    expect(answer.status).toBe(500);
    expect(text(answer.body)).not.toMatch(/hunter|10\.0\.0|Error|\.ts/);
    expect(log).toHaveBeenCalledWith(
      'PUT /api/things/{id} failed:',
      expect.objectContaining({ message: expect.stringContaining('hunter') }),
    );
  });

  test('that is not what the description says is a fault of ours', async () => {
    vi.spyOn(console, 'error').mockImplementation(() => {});
    const liar = endpoint({
      method: 'GET',
      path: '/api/liar',
      summary: 'Promises a number',
      response: z.object({ count: z.number() }),
      action: 'read',
      thing: 'page',
      handler: async () => ({ count: 'many' }) as unknown as { count: number },
    });
    expect((await ask(liar, { headers: as('reader') })).status).toBe(500);
  });
});
