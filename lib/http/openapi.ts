/** The OpenAPI 3.1 document, from the same shapes that check the requests. */
import * as z from 'zod';
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

type SchemaOf = (shape: z.ZodType, io: 'input' | 'output') => Record<string, unknown>;

/** Schemas of shapes. What refers to itself goes among the components, since a reference is read from the document's root. */
function schemaMaker(components: Record<string, unknown>): SchemaOf {
  const names = new Map<string, string>();
  return (shape, io) => {
    const { $schema: _, $defs, ...schema } = z.toJSONSchema(shape, { io, unrepresentable: 'any' });
    if (!$defs) return schema;
    const alike = JSON.stringify($defs);
    const nameOf = (own: string) => {
      const key = `${own} ${alike}`;
      const name = names.get(key) ?? `Shape${names.size + 1}`;
      names.set(key, name);
      return name;
    };
    const moved = <T>(part: T): T =>
      JSON.parse(JSON.stringify(part).replace(/"\$ref":"#\/\$defs\/([^"]+)"/g, (_, own) => `"$ref":"#/components/schemas/${nameOf(own)}"`));
    for (const [own, definition] of Object.entries($defs)) components[nameOf(own)] = moved(definition);
    return moved(schema);
  };
}

export function openApiDocument(endpoints: readonly Endpoint[], baseUrl: string) {
  const paths: Record<string, Record<string, unknown>> = {};
  const schemas: Record<string, unknown> = { Problem: problemSchema };
  const schemaOf = schemaMaker(schemas);
  for (const e of endpoints) {
    paths[e.path] = { ...paths[e.path], [e.method.toLowerCase()]: operation(e, schemaOf) };
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
    components: { securitySchemes: { token: { type: 'http', scheme: 'bearer' } }, schemas },
  };
}

function operation(e: Endpoint, schemaOf: SchemaOf) {
  return {
    summary: e.summary,
    parameters: [...parameters(e.params, 'path', schemaOf), ...parameters(e.query, 'query', schemaOf)],
    ...(e.body ? { requestBody: { required: true, content: { 'application/json': { schema: schemaOf(e.body, 'input') } } } } : {}),
    ...(e.file
      ? {
          requestBody: {
            required: true,
            description: e.file.about,
            content: { 'application/octet-stream': { schema: { type: 'string', format: 'binary', maxLength: e.file.most } } },
          },
        }
      : {}),
    responses: {
      200: { description: 'As asked', content: { 'application/json': { schema: schemaOf(e.response, 'output') } } },
      default: {
        description: 'What went wrong and what to mend',
        content: { 'application/problem+json': { schema: { $ref: '#/components/schemas/Problem' } } },
      },
    },
  };
}

function parameters(shape: z.ZodType | undefined, place: 'path' | 'query', schemaOf: SchemaOf) {
  if (!shape) return [];
  const schema = schemaOf(shape, 'input') as { properties?: Record<string, unknown>; required?: string[] };
  return Object.entries(schema.properties ?? {}).map(([name, property]) => ({
    name,
    in: place,
    required: place === 'path' || (schema.required?.includes(name) ?? false),
    schema: property,
  }));
}
