/** One file of a form (multipart/form-data, RFC 7578), handed on as it comes: it may be larger than what fits into memory. */

const mostHead = 10_000; // bytes of the head of one part

/** False when the form has no such file, an empty one, or is cut off or larger than `most`; what was handed on is then of no use. */
export async function formFile(
  request: Request,
  field: string,
  most: number,
  take: (bytes: Uint8Array) => Promise<void>,
): Promise<boolean> {
  const [, quoted, plain] =
    /^multipart\/form-data\s*;.*\bboundary=(?:"([^"]{1,70})"|([^\s;"]{1,70}))/i.exec(request.headers.get('content-type') ?? '') ?? [];
  const boundary = quoted ?? plain;
  if (!boundary || !request.body) return false;
  const mark = Buffer.from(`\r\n--${boundary}`);
  const keep = mark.length - 1; // a mark may begin at the end of a piece
  let held = Buffer.from('\r\n'); // as if something stood before the first part
  let at: 'between' | 'head' | 'file' = 'between';
  let size = 0;
  let taken = 0;
  const hand = async (bytes: Buffer) => {
    taken += bytes.length;
    if (bytes.length > 0) await take(bytes);
  };
  for await (const chunk of request.body as unknown as AsyncIterable<Uint8Array>) {
    size += chunk.length;
    if (size > most) return false;
    held = Buffer.concat([held, chunk]);
    for (;;) {
      if (at === 'head') {
        const end = held.indexOf('\r\n\r\n');
        if (held.subarray(0, 2).toString() === '--' || (end < 0 && held.length > mostHead)) return false;
        if (end < 0) break;
        at = isFile(held.subarray(0, end).toString(), field) ? 'file' : 'between';
        held = held.subarray(end + 4);
      } else {
        const end = held.indexOf(mark);
        if (at === 'file') await hand(held.subarray(0, end < 0 ? Math.max(0, held.length - keep) : end));
        if (at === 'file' && end >= 0) return taken > 0;
        if (end < 0) {
          held = held.subarray(Math.max(0, held.length - keep));
          break;
        }
        held = held.subarray(end + mark.length);
        at = 'head';
      }
    }
  }
  return false;
}

const isFile = (head: string, field: string): boolean => {
  const said = /^content-disposition:\s*form-data\s*;(.*)$/im.exec(head)?.[1] ?? '';
  return /;?\s*filename\*?=/i.test(said) && new RegExp(`(^|[;\\s])name="${field}"`).test(said);
};
