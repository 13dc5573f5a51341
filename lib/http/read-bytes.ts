/** A request's body, up to a size. */
import { problem } from './problem';

/** Counts real bytes; a Content-Length is only what somebody says. Throws a problem (413) at the first byte too many. */
export async function readBytes(request: Request, most: number): Promise<Uint8Array> {
  const reader = request.body?.getReader();
  if (!reader) return new Uint8Array();
  const chunks: Uint8Array[] = [];
  let size = 0;
  for (;;) {
    const { done, value } = await reader.read();
    if (done) return Buffer.concat(chunks);
    size += value.byteLength;
    if (size > most) {
      await reader.cancel();
      throw problem(413, `Keep the body to ${most.toLocaleString('en-GB')} bytes.`);
    }
    chunks.push(value);
  }
}
