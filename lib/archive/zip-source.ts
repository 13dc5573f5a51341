/** Bytes that are read piece by piece, so that an archive full of pictures never stands in memory whole. */
import { closeSync, fstatSync, openSync, readSync } from 'node:fs';

export interface ZipSource {
  size: number;
  /** As many bytes from there as there are, `length` at most. */
  at(from: number, length: number): Buffer;
}

export const sourceOf = (bytes: Uint8Array): ZipSource => {
  const file = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  return { size: file.length, at: (from, length) => file.subarray(from, from + length) };
};

/** A file of ours that does not change. It is opened for each piece and held by nobody. Throws when it is not there. */
export function fileSource(path: string): ZipSource {
  const opened = <T>(use: (fd: number) => T): T => {
    const fd = openSync(path, 'r');
    try {
      return use(fd);
    } finally {
      closeSync(fd);
    }
  };
  return {
    size: opened((fd) => fstatSync(fd).size),
    at: (from, length) =>
      opened((fd) => {
        const piece = Buffer.alloc(length);
        return piece.subarray(0, readSync(fd, piece, 0, length, from));
      }),
  };
}
