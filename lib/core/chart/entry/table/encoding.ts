/** Text that was read with the wrong encoding on its way here, put right where that is certain. */
import type { TableFinding } from '../types';

interface Repaired {
  text: string;
  findings: TableFinding[];
}

const whole = (level: TableFinding['level'], rule: string, message: string, mend: string): TableFinding => ({
  level,
  rule,
  row: 0,
  column: 0,
  message,
  mend,
});

const mend = 'Look whether names with accents are right.';
const notText = 'Copy the cells themselves, or save the sheet as CSV (UTF-8) and take that file.';

/** The text of a file. UTF-8 is tried first, then UTF-16; what is neither is read as Windows-1252, which spreadsheets write. */
export function textOfBytes(bytes: Uint8Array, cut: boolean): Repaired {
  const sort = sortOfFile(bytes);
  if (sort) return { text: '', findings: [whole('error', 'not-text', `This is ${sort}, not a table as text.`, notText)] };
  const wide = wideOrder(bytes.length, (i) => bytes[i] ?? 0);
  if (wide) return repairText(new TextDecoder(wide === 'low' ? 'utf-16le' : 'utf-16be').decode(bytes));
  const proper = utf8Of(bytes, cut);
  if (proper !== null) return repairText(proper);
  const { text, findings } = repairText(westernText(bytes));
  return { text, findings: [whole('information', 'encoding', 'The file is not UTF-8; it was read as Windows-1252.', mend), ...findings] };
}

/** Text that was read with the wrong encoding is put right; marks in front go, NUL goes. */
export function repairText(source: string): Repaired {
  const findings: TableFinding[] = [];
  let text = source;
  const wide = wideOrder(text.length, (i) => text.charCodeAt(i));
  if (wide) {
    text = new TextDecoder(wide === 'low' ? 'utf-16le' : 'utf-16be').decode(Uint8Array.from(text, (c) => c.charCodeAt(0)));
    findings.push(whole('information', 'encoding', 'The text was UTF-16 read byte by byte; it was put together again.', mend));
  } else if (/[\u00c2-\u00f4][\u0080-\u00bf\u0152-\u2122]/.test(text)) {
    const bytes = westernBytes(text);
    const proper = bytes && utf8Of(bytes, false);
    if (proper) {
      text = proper;
      findings.push(whole('information', 'encoding', 'The text was UTF-8 read as Latin-1 or Windows-1252; it was put right.', mend));
    }
  }
  if (text.startsWith('\ufeff')) text = text.slice(1);
  if (controlsIn(text) > 0.1 * text.length) {
    return { text: '', findings: [whole('error', 'not-text', 'This is no text: a tenth of it and more are control characters.', notText)] };
  }
  if (text.includes('\u0000')) {
    text = text.replaceAll('\u0000', '');
    findings.push(whole('warning', 'nul', 'The text holds NUL characters; they were left out.', notText));
  }
  if (text.includes('\ufffd')) {
    const message = 'Some characters were lost before the text came here (shown as \ufffd).';
    findings.push(whole('warning', 'lost-character', message, 'Save the sheet as UTF-8 and paste again.'));
  }
  return { text, findings };
}

/** Files that are no text, by how they begin: ZIP archives (workbooks are such), PDF, PNG, JPEG, and the older compound files. */
function sortOfFile(bytes: Uint8Array): string | null {
  const begins = (...head: number[]) => head.every((byte, i) => bytes[i] === byte);
  if (begins(0x50, 0x4b, 3, 4)) return 'a workbook or another archive';
  if (begins(0xd0, 0xcf, 0x11, 0xe0)) return 'a workbook of the older kind';
  if (begins(0x25, 0x50, 0x44, 0x46)) return 'a PDF';
  return begins(0x89, 0x50, 0x4e, 0x47) || begins(0xff, 0xd8, 0xff) ? 'a picture' : null;
}

/** How many of the first characters are control characters, in proportion to the whole. */
function controlsIn(text: string): number {
  const length = Math.min(text.length, 4000);
  let count = 0;
  for (let i = 0; i < length; i += 1) {
    const code = text.charCodeAt(i);
    if (code < 32 ? code !== 9 && code !== 10 && code !== 13 : code === 127) count += 1;
  }
  return length === 0 ? 0 : (count * text.length) / length;
}

/** Which byte of each pair comes first, when these are the bytes of UTF-16. */
function wideOrder(length: number, byteAt: (i: number) => number): 'low' | 'high' | null {
  if (byteAt(0) === 0xff && byteAt(1) === 0xfe) return 'low';
  if (byteAt(0) === 0xfe && byteAt(1) === 0xff) return 'high';
  const looked = Math.min(length, 400);
  if (looked < 8) return null;
  let [even, odd] = [0, 0];
  for (let i = 0; i < looked; i += 1) {
    if (byteAt(i) > 0xff) return null;
    if (byteAt(i) !== 0) continue;
    if (i % 2 === 0) even += 1;
    else odd += 1;
  }
  const most = looked * 0.4; // of the half that would be zero
  if (odd >= most && even === 0) return 'low';
  return even >= most && odd === 0 ? 'high' : null;
}

/** What Windows-1252 has where Latin-1 has control characters, from 0x80; blank where it has nothing. */
const western = '€ ‚ƒ„…†‡ˆ‰Š‹Œ Ž  ‘’“”•–—˜™š›œ žŸ';

/** Windows-1252 by its own table: not every runtime's decoder of that name has more than Latin-1. */
function westernText(bytes: Uint8Array): string {
  const codes = Uint16Array.from(bytes, (byte) => {
    const special = byte >= 0x80 && byte < 0xa0 ? western.charCodeAt(byte - 0x80) : 0x20;
    return special === 0x20 ? byte : special;
  });
  return new TextDecoder('utf-16le').decode(codes);
}

/** The bytes of a text that was read as Latin-1 or Windows-1252; null when it was neither. */
function westernBytes(text: string): Uint8Array | null {
  const bytes = new Uint8Array(text.length);
  for (let i = 0; i < text.length; i += 1) {
    const code = text.charCodeAt(i);
    const special = code > 0xff ? western.indexOf(text[i] ?? '') : -1;
    if (code > 0xff && special === -1) return null;
    bytes[i] = special === -1 ? code : 0x80 + special;
  }
  return bytes;
}

/** `cut`: the last character may be incomplete. */
function utf8Of(bytes: Uint8Array, cut: boolean): string | null {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes, { stream: cut });
  } catch {
    return null;
  }
}
