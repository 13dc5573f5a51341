/** The OpenAPI 3.1 document, from the same shapes that check the requests. */
import { z } from 'zod';
import type { Endpoint } from './endpoint';

const problemSchema = {
  type: 'object',
  required: ['title', 'status', 'detail'],
  properties: {
    title: { type: 'string' },
    status: { type: 'integer' },
    detail: { type: 'string' },
    errors: {
      type: 'array',
      items: {
        type: 'object',
        required: ['field', 'message', 'mend'],
        properties: { field: { type: 'string' }, message: { type: 'string' }, mend: { type: 'string' } },
      },
    },
  },
};

const json = (shape: z.ZodType, io: 'input' | 'output') => z.toJSONSchema(shape, { io, unrepresentable: 'any' });

export function openApiDocument(endpoints: readonly Endpoint[], baseUrl: string) {
  const paths: Record<string, Record<string, unknown>> = {};
  for (const e of endpoints) {
    paths[e.path] = { ...paths[e.path], [e.method.toLowerCase()]: operation(e) };
  }
  return {
    openapi: '3.1.0',
    info: {
      title: 'Fettlebook',
      version: '1',
      description: 'The same questions that the screens ask. Send a personal access token, made on the Club page, as a bearer token.',
    },
    servers: [{ url: baseUrl }],
    security: [{ token: [] }],
    paths,
    components: { securitySchemes: { token: { type: 'http', scheme: 'bearer' } }, schemas: { Problem: problemSchema } },
  };
}

function operation(e: Endpoint) {
  return {
    summary: e.summary,
    parameters: [...parameters(e.params, 'path'), ...parameters(e.query, 'query')],
    ...(e.body ? { requestBody: { required: true, content: { 'application/json': { schema: json(e.body, 'input') } } } } : {}),
    responses: {
      200: { description: 'As asked', content: { 'application/json': { schema: json(e.response, 'output') } } },
      default: {
        description: 'What went wrong and what to mend',
        content: { 'application/problem+json': { schema: { $ref: '#/components/schemas/Problem' } } },
      },
    },
  };
}

function parameters(shape: z.ZodType | undefined, place: 'path' | 'query') {
  if (!shape) return [];
  const schema = json(shape, 'input') as { properties?: Record<string, unknown>; required?: string[] };
  return Object.entries(schema.properties ?? {}).map(([name, property]) => ({
    name,
    in: place,
    required: place === 'path' || (schema.required?.includes(name) ?? false),
    schema: property,
  }));
}
