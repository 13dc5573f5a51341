/** Where files stand: a folder, or a bucket of an S3-compatible store. Names are ours, such as `3f/3f9c…/800.jpg`. */
import { join } from 'node:path';
import { settings } from '@/lib/store/settings';
import { bucketPlace } from './bucket';
import { folderPlace } from './folder';

export interface FilePlace {
  /** Keeps a file whole or not at all; one that is there is replaced. */
  put(name: string, bytes: Uint8Array, type: string): Promise<void>;
  /** The file, or null when there is none. */
  get(name: string): Promise<Uint8Array<ArrayBuffer> | null>;
  remove(name: string): Promise<void>;
}

let own: FilePlace | undefined;

/** The place of this process. */
export function filePlace(): FilePlace {
  const { bucket, dataDir } = settings();
  own ??= bucket ? bucketPlace(bucket) : folderPlace(join(dataDir, 'files'));
  return own;
}
