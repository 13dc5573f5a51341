/** A small S3-like store on the loopback: one bucket in memory, every request's signature checked. */
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { fault } from './signature';

export interface BucketServer {
  address: string; // of the bucket
  files: Map<string, { bytes: Buffer; type: string | undefined }>;
  faults: string[];
  asked: string[];
  /** Answers the next so many requests with this status. */
  fail(times: number, status: number): void;
  close(): Promise<void>;
}

export async function bucketServer(who: { key: string; secret: string; region: string }): Promise<BucketServer> {
  const files: BucketServer['files'] = new Map();
  const [faults, asked]: string[][] = [[], []];
  const failing: number[] = [];
  const server: Server = createServer(async (request, response) => {
    const chunks: Buffer[] = [];
    for await (const chunk of request) chunks.push(chunk as Buffer);
    const body = Buffer.concat(chunks);
    const [path = '', query = ''] = (request.url ?? '').split('?');
    const answer = (status: number, text = '') => response.writeHead(status, { 'content-type': 'application/xml' }).end(text);
    asked?.push(`${request.method} ${path}`);
    const broken = failing.shift();
    if (broken) return answer(broken, '<Error><Code>SlowDown</Code></Error>');
    const headers = Object.fromEntries(Object.entries(request.headers).map(([name, value]) => [name, String(value)]));
    const wrong = fault({ method: request.method ?? '', path, query, headers }, body, who);
    if (wrong) {
      faults?.push(wrong);
      return answer(403, `<Error><Code>AccessDenied</Code><Message>${wrong}</Message></Error>`);
    }
    if (!path.startsWith('/pictures/')) return answer(404, '<Error><Code>NoSuchBucket</Code></Error>');
    if (request.method === 'PUT') {
      files.set(path, { bytes: body, type: request.headers['content-type'] });
      return answer(200);
    }
    if (request.method === 'DELETE') {
      files.delete(path);
      return answer(204);
    }
    const file = files.get(path);
    if (!file) return answer(404, '<Error><Code>NoSuchKey</Code></Error>');
    return response.writeHead(200, { 'content-type': file.type ?? 'application/octet-stream' }).end(file.bytes);
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  return {
    address: `http://127.0.0.1:${(server.address() as AddressInfo).port}/pictures`,
    files,
    faults: faults ?? [],
    asked: asked ?? [],
    fail: (times, status) => failing.push(...Array<number>(times).fill(status)),
    close: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
}
