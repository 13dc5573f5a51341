/** The document that /api/openapi.json gives, against the route files themselves. */
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { GET } from '@/app/api/openapi.json/route';
import type { Route } from '@/lib/http/endpoint';
import '../access/house'; // sets the settings

const api = join(import.meta.dirname, '../../app/api');
/** What describes the formats themselves is open to anyone and is no endpoint. */
const descriptions = ['openapi.json/route.ts', 'charts/schema/route.ts'];
const files = readdirSync(api, { recursive: true, encoding: 'utf8' })
  .filter((file) => /(^|\/)route\.tsx?$/.test(file) && !descriptions.includes(file))
  .sort();
/** machines/[id]/chart/route.ts → /api/machines/{id}/chart */
const pathOf = (file: string) => `/api/${file.replace(/\/route\.tsx?$/, '').replace(/\[(\w+)\]/g, '{$1}')}`;
const methods = ['GET', 'POST', 'PUT', 'PATCH', 'DELETE', 'HEAD', 'OPTIONS'];

interface Parameter {
  name: string;
  in: string;
  required: boolean;
  schema: { type?: string; pattern?: string; enum?: unknown[]; maxLength?: number };
}
interface Media {
  content: Record<string, { schema: Record<string, unknown> }>;
}
interface Operation {
  summary: string;
  parameters: Parameter[];
  requestBody?: Media;
  responses: Record<string, Media & { description: string }>;
}
let document: { openapi: string; paths: Record<string, Record<string, Operation>> };
let exported: { file: string; name: string; route: Route }[];
let operations: { at: string; path: string; method: string; operation: Operation }[];

beforeAll(async () => {
  document = await GET().json();
  operations = Object.entries(document.paths).flatMap(([path, each]) =>
    Object.entries(each).map(([method, operation]) => ({ at: `${method} ${path}`, path, method, operation })),
  );
  const modules = await Promise.all(
    files.map(async (file) => ({ file, module: (await import(join(api, file))) as Record<string, unknown> })),
  );
  exported = modules.flatMap(({ file, module }) => Object.entries(module).map(([name, route]) => ({ file, name, route: route as Route })));
});

describe('the programming interface', () => {
  test('has routes to speak of', () => {
    expect(files.length).toBeGreaterThan(5);
    expect(exported.length).toBeGreaterThanOrEqual(files.length);
  });

  test('every export of a route file is an endpoint of that method and that address', () => {
    for (const { file, name, route } of exported) {
      expect(methods, file).toContain(name);
      expect([route.endpoint?.method, route.endpoint?.path], file).toEqual([name, pathOf(file)]);
    }
  });

  test('its document holds each of them and no other', () => {
    const there = exported.map(({ file, name }) => `${name.toLowerCase()} ${pathOf(file)}`).sort();
    expect(operations.map((o) => o.at).sort()).toEqual(there);
  });
});

// OpenAPI Specification 3.1.0: paths object, path templating, parameter, request body, responses. From memory.
describe('the document', () => {
  test('describes every part of an address in braces, with what it may hold', () => {
    expect(document.openapi).toMatch(/^3\.1\.\d+$/);
    for (const { at, path, operation } of operations) {
      const declared = operation.parameters.filter((p) => p.in === 'path');
      expect(declared.map((p) => p.name).sort(), at).toEqual([...path.matchAll(/\{(\w+)\}/g)].map((m) => m[1]).sort());
      for (const p of declared) {
        expect(p.required, at).toBe(true);
        expect(p.schema.type, at).toBe('string');
      }
    }
  });

  test('gives each parameter once, each a schema, and each operation a summary of its own', () => {
    for (const { at, operation } of operations) {
      const names = operation.parameters.map((p) => `${p.in} ${p.name}`);
      expect(new Set(names).size, at).toBe(names.length);
      for (const p of operation.parameters) expect(Object.keys(p.schema).length, `${at} ${p.name}`).toBeGreaterThan(0);
      expect(operation.summary.trim(), at).not.toBe('');
    }
    const summaries = operations.map((o) => o.operation.summary);
    expect(new Set(summaries).size).toBe(summaries.length);
  });

  test('says what comes back, as JSON, and asks for no body to read with', () => {
    for (const { at, method, operation } of operations) {
      const schema = operation.responses['200']?.content['application/json']?.schema;
      expect(Object.keys(schema ?? {}).length, at).toBeGreaterThan(0);
      expect(operation.responses.default?.content['application/problem+json'], at).toBeDefined();
      if (method === 'get') expect(operation.requestBody, at).toBeUndefined();
      if (operation.requestBody) {
        const { 'application/json': json, 'application/octet-stream': file } = operation.requestBody.content;
        if (file) expect(file.schema, at).toMatchObject({ type: 'string', format: 'binary', maxLength: expect.any(Number) });
        else expect(Object.keys(json?.schema ?? {}).length, at).toBeGreaterThan(0);
      }
    }
  });

  test('refers only to what it holds', () => {
    const references = [...JSON.stringify(document).matchAll(/"\$ref":"([^"]*)"/g)].map((m) => m[1] ?? '');
    expect(references.length).toBeGreaterThan(0);
    for (const reference of new Set(references)) expect(resolves(reference), reference).toBe(true);
  });
});

// A reference is read from the document’s root: no schema here carries an $id (JSON Schema 2020-12 § 8.2). Escapes: RFC 6901 § 3.
const resolves = (reference: string) =>
  reference.startsWith('#/') &&
  undefined !==
    reference
      .slice(2)
      .split('/')
      .reduce<unknown>((at, key) => (at as Record<string, unknown> | undefined)?.[key.replace(/~1/g, '/').replace(/~0/g, '~')], document);
