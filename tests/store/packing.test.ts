import { brotliCompressSync, constants } from 'node:zlib';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { mostUnpacked, pack, unpack } from '@/lib/store/packing';

test('what is unpacked is what was packed, and packing never costs more than a byte', () => {
  fc.assert(
    fc.property(fc.uint8Array({ maxLength: 2000 }), (bytes) => {
      const packed = pack(bytes);
      expect(packed.length).toBeLessThanOrEqual(bytes.length + 1);
      expect([...unpack(packed)]).toEqual([...bytes]);
    }),
  );
  const words = new TextEncoder().encode('the spinner lane '.repeat(500));
  expect(pack(words).length).toBeLessThan(100);
  expect(Buffer.compare(unpack(pack(words)), words)).toBe(0);
});

test('other bytes, damaged bytes and a bomb are refused', () => {
  expect(() => unpack(new Uint8Array())).toThrow('does not know');
  expect(() => unpack(Uint8Array.of(7, 1, 2))).toThrow('does not know');
  const packed = pack(new Uint8Array(5000));
  expect(() => unpack(packed.subarray(0, packed.length - 2))).toThrow();
  const bomb = brotliCompressSync(new Uint8Array(mostUnpacked + 1), { params: { [constants.BROTLI_PARAM_QUALITY]: 1 } });
  expect(() => unpack(Buffer.concat([Uint8Array.of(1), bomb]))).toThrow(RangeError);
});
