/** Files in a bucket of an S3-compatible store, each request signed with Signature Version 4 over its body's hash. */
import { createHash } from 'node:crypto';
import { AwsClient } from 'aws4fetch';
import type { Bucket } from '@/lib/store/settings';
import type { FilePlace } from './place';

const patienceMs = 30_000;

/** Throws when the store can't be reached or refuses, saying what it answered; the secret is never part of that. */
export function bucketPlace({ address, key, secret, region }: Bucket): FilePlace {
  const client = new AwsClient({ accessKeyId: key, secretAccessKey: secret, region, service: 's3', retries: 3 });
  const ask = async (method: string, name: string, bytes?: Uint8Array, type?: string): Promise<Response> => {
    const body = bytes && new Uint8Array(bytes);
    const response = await client.fetch(`${address}/${name}`, {
      method,
      ...(body && { body }),
      headers: {
        'x-amz-content-sha256': createHash('sha256')
          .update(body ?? '')
          .digest('hex'),
        ...(type && { 'content-type': type }),
      },
      signal: AbortSignal.timeout(patienceMs),
    });
    if (response.ok || response.status === 404) return response;
    const said = (await response.text()).slice(0, 300);
    throw new Error(`The store of FILES_BUCKET answered ${response.status} to ${method} ${name}: ${said}`);
  };
  return {
    async put(name, bytes, type) {
      const { status } = await ask('PUT', name, bytes, type);
      if (status === 404) throw new Error('The store has no such bucket: check FILES_BUCKET.');
    },
    async get(name) {
      const response = await ask('GET', name);
      return response.status === 404 ? null : new Uint8Array(await response.arrayBuffer());
    },
    async remove(name) {
      await ask('DELETE', name);
    },
  };
}
