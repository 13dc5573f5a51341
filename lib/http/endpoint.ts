/** One way in for every JSON endpoint: who asks, whether they may, what came, what goes back. The same object describes it in OpenAPI. */
import type * as z from 'zod';
import { type Action, can, type Thing } from '@/lib/access/can';
import { actorOf, bearerOf } from '@/lib/access/session';
import { settings } from '@/lib/store/settings';
import type { Member } from '@/lib/store/types';
import { fieldErrors } from './fields';
import { sameOrigin } from './origin';
import { ProblemError, problem, respond } from './problem';
import { readBytes } from './read-bytes';

const mostBytes = 1_000_000;

type Shape = z.ZodType;
export interface Endpoint {
  method: 'GET' | 'POST' | 'PUT' | 'DELETE';
  path: string; // /api/machines/{id}
  summary: string;
  params?: Shape;
  query?: Shape;
  body?: Shape;
  /** The body is a file of at most so many bytes, as it is, instead of JSON. */
  file?: { most: number; about: string };
  response: Shape;
}
type Out<S extends Shape | undefined> = S extends Shape ? z.infer<S> : undefined;
interface Asked<P extends Shape | undefined, Q extends Shape | undefined, B extends Shape | undefined> {
  member: Member;
  params: Out<P>;
  query: Out<Q>;
  body: Out<B>;
  /** The body's bytes where the endpoint takes a file; empty elsewhere. */
  file: Uint8Array;
}
type Context = { params: Promise<Record<string, string | string[] | undefined>> };

export type Route = ((request: Request, context: Context) => Promise<Response>) & { endpoint: Endpoint };

/** Makes a route handler of a description and a function from what was asked to plain JSON. */
export function endpoint<
  P extends Shape | undefined = undefined,
  Q extends Shape | undefined = undefined,
  B extends Shape | undefined = undefined,
  R extends Shape = Shape,
>(
  described: Omit<Endpoint, 'params' | 'query' | 'body' | 'response'> & {
    params?: P;
    query?: Q;
    body?: B;
    response: R;
    action: Action;
    thing: Thing;
    handler(asked: Asked<P, Q, B>): Promise<z.input<R>>;
  },
): Route {
  const { action, thing, handler, ...shape } = described;
  const route = async (request: Request, context: Context): Promise<Response> => {
    try {
      const member = await actorOf(request.headers);
      if (!member) throw problem(401, 'Sign in, or send a personal access token as “Authorization: Bearer …”.');
      if (!can(member, action, thing)) throw problem(403, `As ${member.role} you may not ${action} this.`);
      const writes = shape.method !== 'GET';
      if (writes && bearerOf(request.headers) === null && !sameOrigin(request.headers, settings().baseUrl)) {
        throw problem(403, 'This was not sent by a page of this notebook. Scripts use a personal access token.');
      }
      const asked = {
        member,
        params: (shape.params ? check(shape.params, await context.params, 404, 'address') : undefined) as Out<P>,
        query: (shape.query
          ? check(shape.query, Object.fromEntries(new URL(request.url).searchParams), 400, 'query')
          : undefined) as Out<Q>,
        file: shape.file ? await readFile(request, shape.file.most) : new Uint8Array(),
        body: (shape.body ? check(shape.body, await readJson(request), 422, 'body') : undefined) as Out<B>,
      };
      return Response.json(shape.response.parse(await handler(asked)), { headers: { 'cache-control': 'no-store' } });
    } catch (error) {
      if (error instanceof ProblemError) return respond(error);
      console.error(`${shape.method} ${shape.path} failed:`, error);
      return respond(problem(500, 'Nothing that was saved is lost. Try again; if it happens again, tell whoever runs this notebook.'));
    }
  };
  return Object.assign(route, { endpoint: shape as Endpoint });
}

function check(shape: Shape, value: unknown, status: number, whole: string): unknown {
  const read = shape.safeParse(value);
  if (read.success) return read.data;
  const errors = fieldErrors(read.error, value, whole);
  throw problem(status, errors.map((e) => `${e.field}: ${e.message}`).join('; '), errors);
}

/** A file comes as image/… or application/octet-stream, which no form of another site can send; what it is, its own bytes say. */
async function readFile(request: Request, most: number): Promise<Uint8Array> {
  if (!/^(image\/[\w.+-]+|application\/octet-stream)\s*(;|$)/i.test(request.headers.get('content-type') ?? ''))
    throw problem(415, 'Send the file itself as the body, as application/octet-stream.');
  const bytes = await readBytes(request, most);
  if (bytes.length === 0) throw problem(422, 'The file is empty. Choose it again.');
  return bytes;
}

async function readJson(request: Request): Promise<unknown> {
  if (!/^application\/json\s*(;|$)/i.test(request.headers.get('content-type') ?? ''))
    throw problem(415, 'Send the body as application/json.');
  const bytes = await readBytes(request, mostBytes);
  try {
    return JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(bytes));
  } catch (error) {
    const message = error instanceof SyntaxError ? error.message : 'it is not UTF-8';
    throw problem(400, `The body is no JSON: ${message}`, [{ field: 'body', message, mend: 'Send one JSON value, encoded in UTF-8.' }]);
  }
}
