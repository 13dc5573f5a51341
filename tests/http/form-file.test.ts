/** A file of a form, handed on piece by piece. The form: RFC 7578, RFC 2046 § 5.1.1. */
import { expect, test } from 'vitest';
import { formFile } from '@/lib/http/form-file';

const made = (...parts: [name: string, value: string | Buffer, file?: string][]) => {
  const form = new FormData();
  for (const [name, value, file] of parts)
    if (file !== undefined) form.set(name, new File([new Uint8Array(Buffer.from(value))], file));
    else form.set(name, String(value));
  return new Request('http://127.0.0.1/', { method: 'POST', body: form });
};
/** The same request, its body in pieces of so many bytes. */
async function inPieces(request: Request, size: number) {
  const bytes = Buffer.from(await request.arrayBuffer());
  let at = 0;
  const body = new ReadableStream<Uint8Array>({
    pull(stream) {
      if (at >= bytes.length) return stream.close();
      stream.enqueue(new Uint8Array(bytes.subarray(at, at + size)));
      at += size;
    },
  });
  return new Request(request.url, { method: 'POST', headers: request.headers, body, duplex: 'half' } as RequestInit);
}
async function taken(request: Request, most = 100_000) {
  const pieces: Buffer[] = [];
  const whole = await formFile(request, 'archive', most, async (bytes) => void pieces.push(Buffer.from(bytes)));
  return whole ? Buffer.concat(pieces) : null;
}
const odd = Buffer.from('\r\n--\r\n------WebKit\r\n\r\n--\r\r\n-\n'.repeat(20));

test.each([1, 2, 3, 7, 64, 100_000])('comes whole, however the body is cut: %d bytes', async (size) => {
  const request = made(['before', 'words'], ['archive', odd, 'a.zip'], ['after', 'words']);
  expect(await taken(await inPieces(request, size))).toEqual(odd);
});
test('a field that is no file, another file, an empty one and none give nothing', async () => {
  expect(await taken(made(['archive', 'words']))).toBeNull();
  expect(await taken(made(['other', odd, 'a.zip']))).toBeNull();
  expect(await taken(made(['archive', '', 'a.zip']))).toBeNull();
  expect(await taken(made(['x', 'y']))).toBeNull();
  expect(await taken(new Request('http://127.0.0.1/', { method: 'POST', body: 'archive=1' }))).toBeNull();
  expect(await taken(new Request('http://127.0.0.1/', { method: 'POST' }))).toBeNull();
});
test('cut off or too large, it gives nothing', async () => {
  const request = made(['archive', odd, 'a.zip']);
  const bytes = Buffer.from(await request.clone().arrayBuffer());
  for (const length of [10, 100, bytes.length - 60])
    expect(await taken(new Request(request.url, { method: 'POST', headers: request.headers, body: bytes.subarray(0, length) }))).toBeNull();
  expect(await taken(made(['archive', odd, 'a.zip']), 500)).toBeNull();
  const endless = `--x\r\nContent-Disposition: form-data; name="archive"; filename="${'a'.repeat(20_000)}`;
  const headers = { 'content-type': 'multipart/form-data; boundary=x' };
  expect(await taken(new Request(request.url, { method: 'POST', headers, body: endless }))).toBeNull();
});
