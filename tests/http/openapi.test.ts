import { describe, expect, test } from 'vitest';
import * as z from 'zod';
import { endpoint } from '@/lib/http/endpoint';
import { openApiDocument } from '@/lib/http/openapi';

const thing = z.object({ id: z.string().regex(/^[a-z]+$/) });
const listed = endpoint({
  method: 'GET',
  path: '/api/things',
  summary: 'Things, newest first',
  query: z.object({ limit: z.coerce.number().int().min(1).max(100).default(20), q: z.string() }),
  response: z.object({ things: z.array(thing) }),
  action: 'read',
  thing: 'page',
  handler: async () => ({ things: [] }),
});
const kept = endpoint({
  method: 'PUT',
  path: '/api/things/{id}',
  summary: 'Keeps a thing',
  params: thing,
  body: z.object({ text: z.string(), note: z.string().default('') }),
  response: z.object({ text: z.string(), note: z.string().default('') }),
  action: 'write',
  thing: 'page',
  handler: async ({ body }) => body,
});
const read = endpoint({
  method: 'GET',
  path: '/api/things/{id}',
  summary: 'A thing',
  params: thing,
  response: thing,
  action: 'read',
  thing: 'page',
  handler: async ({ params }) => params,
});

interface Parameter {
  name: string;
  in: string;
  required: boolean;
  schema: Record<string, unknown>;
}
interface Operation {
  summary: string;
  parameters: Parameter[];
  requestBody?: { required: boolean; content: Record<string, { schema: Record<string, unknown> }> };
  responses: Record<string, { description: string; content: Record<string, { schema: Record<string, unknown> }> }>;
}
const document = JSON.parse(
  JSON.stringify(
    openApiDocument(
      [listed, kept, read].map((r) => r.endpoint),
      'https://notebook.club.example',
    ),
  ),
) as {
  openapi: string;
  info: { title: string; version: string };
  servers: { url: string }[];
  security: Record<string, string[]>[];
  paths: Record<string, Record<string, Operation>>;
  components: { securitySchemes: Record<string, unknown>; schemas: Record<string, unknown> };
};
const operations = Object.entries(document.paths).flatMap(([path, methods]) =>
  Object.entries(methods).map(([method, operation]) => ({ path, method, operation })),
);

// Rules: OpenAPI Specification 3.1.0, §§ 4.8.1 (document), 4.8.2 (info), 4.8.10 (operation), 4.8.12 (parameter), 4.8.16 (responses). From memory.
describe('the OpenAPI document', () => {
  test('says which version it is written in, whose it is and where it is served', () => {
    expect(document.openapi).toMatch(/^3\.1\.\d+$/);
    expect(document.info).toMatchObject({ title: 'Fettlebook', version: expect.any(String) });
    expect(document.servers).toEqual([{ url: 'https://notebook.club.example' }]);
  });

  test('holds every endpoint once, two methods of one path together', () => {
    expect(operations.map((o) => `${o.method} ${o.path}`)).toEqual(['get /api/things', 'put /api/things/{id}', 'get /api/things/{id}']);
    expect(operations.map((o) => o.operation.summary)).toEqual(['Things, newest first', 'Keeps a thing', 'A thing']);
  });

  test('every part of a path in braces is a required path parameter, and no other is', () => {
    for (const { path, operation } of operations) {
      const inBraces = [...path.matchAll(/\{(\w+)\}/g)].map((m) => m[1]);
      const declared = operation.parameters.filter((p) => p.in === 'path');
      expect(declared.map((p) => p.name)).toEqual(inBraces);
      expect(declared.every((p) => p.required)).toBe(true);
      for (const p of operation.parameters) expect(['path', 'query']).toContain(p.in);
    }
  });

  test('what has a usual value may be left out by who asks and is there for who reads', () => {
    const [limit, q] = document.paths['/api/things']?.get?.parameters ?? [];
    expect(limit).toMatchObject({ name: 'limit', in: 'query', required: false, schema: { minimum: 1, maximum: 100, default: 20 } });
    expect(q).toMatchObject({ name: 'q', required: true, schema: { type: 'string' } });
    const { requestBody, responses } = document.paths['/api/things/{id}']?.put ?? {};
    expect(requestBody?.required).toBe(true);
    expect(requestBody?.content['application/json']?.schema).toMatchObject({ type: 'object', required: ['text'] });
    expect(responses?.['200']?.content['application/json']?.schema.required).toEqual(['text', 'note']);
    expect(document.paths['/api/things/{id}']?.get?.requestBody).toBeUndefined();
  });

  test('every response is described, problems as RFC 9457 has them', () => {
    for (const { operation } of operations) {
      for (const response of Object.values(operation.responses)) expect(response.description).not.toBe('');
      expect(Object.keys(operation.responses.default?.content ?? {})).toEqual(['application/problem+json']);
    }
    expect(document.components.schemas.Problem).toMatchObject({ required: ['title', 'status', 'detail'] });
  });

  test('every reference leads somewhere, and every scheme that is required exists', () => {
    const references = [...JSON.stringify(document).matchAll(/"\$ref":"([^"]+)"/g)].map((m) => m[1] ?? '');
    expect(references.length).toBeGreaterThan(0);
    for (const reference of references) {
      const found = reference
        .replace('#/', '')
        .split('/')
        .reduce<unknown>((at, key) => (at as Record<string, unknown> | undefined)?.[key], document);
      expect(found, reference).toBeDefined();
    }
    expect(document.security.flatMap(Object.keys)).toEqual(Object.keys(document.components.securitySchemes));
    expect(document.components.securitySchemes.token).toEqual({ type: 'http', scheme: 'bearer' });
  });
});
