/** What a file is, by its first bytes. Its name and what the sender calls it count for nothing. */

export type PictureKind = 'jpeg' | 'png' | 'gif' | 'webp' | 'avif';
/** Kinds that are known and not taken. */
export type OtherKind = 'heic' | 'svg' | 'html' | 'pdf' | 'tiff' | 'moving-avif' | 'unknown';

const latin = new TextDecoder('latin1');

/** Signatures: WHATWG MIME Sniffing § 6.1 and ISO/IEC 14496-12 § 4.3 (brands), from memory. */
export function sniff(bytes: Uint8Array): PictureKind | OtherKind {
  const head = latin.decode(bytes.subarray(0, 512));
  if (head.startsWith('\xff\xd8\xff')) return 'jpeg';
  if (head.startsWith('\x89PNG\r\n\x1a\n')) return 'png';
  if (/^GIF8[79]a/.test(head)) return 'gif';
  if (head.startsWith('RIFF') && head.startsWith('WEBP', 8)) return 'webp';
  if (head.startsWith('ftyp', 4)) return byBrand(bytes, head);
  if (head.startsWith('%PDF-')) return 'pdf';
  if (head.startsWith('II*\0') || head.startsWith('MM\0*')) return 'tiff';
  if (/<svg[\s>]/i.test(head)) return 'svg';
  if (/<(!doctype html|html|head|body|script)[\s>]/i.test(head)) return 'html';
  return 'unknown';
}

function byBrand(bytes: Uint8Array, head: string): PictureKind | OtherKind {
  const length = Math.min(new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength).getUint32(0), 256);
  const brands = [head.slice(8, 12), ...(head.slice(16, length).match(/.{4}/gs) ?? [])];
  if (brands[0] === 'avis') return 'moving-avif';
  if (brands.includes('avif')) return 'avif';
  return brands.some((brand) => /^(hei[cxms]|hev[cxms]|mif1|msf1)$/.test(brand)) ? 'heic' : 'unknown';
}
