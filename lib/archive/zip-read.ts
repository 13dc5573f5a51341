/**
 * Reads a ZIP that comes from a stranger: everything that could do harm is refused before anything is unpacked. Numbers of sections are
 * those of APPNOTE.TXT 6.3.10.
 */
import { crc32, inflateRawSync } from 'node:zlib';
import type { ZipSource } from './zip-source';

const mib = 1024 * 1024;
export const limits = {
  archiveBytes: 64 * 1024 * mib, // some 30,000 photos in every size
  directoryBytes: 32 * mib,
  files: 131_072, // whose manifest is still read: 30 MiB
  fileBytes: 32 * mib, // unpacked
  allBytes: 256 * mib, // unpacked, of what is packed: text
  ratio: 250, // of a file over 1 MiB; text packs to a fiftieth at best
};
const ratioFrom = mib;

export interface Refusal {
  ok: false;
  message: string;
  mend: string;
}
export interface ZipEntry {
  path: string;
  bytes: number; // unpacked, as the directory says; checked when it is read
  read(): { ok: true; bytes: Uint8Array } | Refusal;
}

const no = (message: string, mend = 'Make the archive again, or use the file as it was exported.'): Refusal => ({
  ok: false,
  message,
  mend,
});
const directoryEnd = 0x06054b50;
const largeEnd = 0x06064b50;
const largeLocator = 0x07064b50;
const directoryEntry = 0x02014b50;
const localEntry = 0x04034b50;
const symlink = 0o120000;
const decoder = new TextDecoder('utf-8', { fatal: true });

/** The files of an archive by path, none of them unpacked yet; or the first thing that speaks against it. */
export function readZip(source: ZipSource): { ok: true; entries: Map<string, ZipEntry> } | Refusal {
  if (source.size > limits.archiveBytes)
    return no(`The archive is larger than ${limits.archiveBytes / mib / 1024} GiB.`, 'Take the club away machine by machine.');
  const tailBytes = Math.min(source.size, 22 + 0xffff);
  const tail = source.at(source.size - tailBytes, tailBytes);
  const record = endOf(tail);
  if (record < 0) return no('This is no ZIP file, or its end is missing.', 'Copy or download it again.');
  const said = directoryOf(source, tail.subarray(record, record + 22), source.size - tailBytes + record);
  if (!said) return no('The archive’s directory does not end where it should.', 'Copy or download it again.');
  const { count, size, start, parts } = said;
  if (parts) return no('The archive is in several parts.');
  if (size > limits.directoryBytes) return no(`The archive’s directory is larger than ${limits.directoryBytes / mib} MiB.`);
  if (count > limits.files) return no(`The archive has more than ${limits.files} files.`);
  const directory = source.at(start, size);
  const end = directory.length;
  const entries = new Map<string, ZipEntry>();
  const names = new Set<string>();
  const places: [from: number, to: number, path: string][] = [];
  let all = 0;
  let at = 0;
  for (let i = 0; i < count; i++) {
    if (at + 46 > end || directory.readUInt32LE(at) !== directoryEntry)
      return no('The archive’s directory is damaged.', 'Copy or download it again.');
    const flags = directory.readUInt16LE(at + 8);
    const method = directory.readUInt16LE(at + 10);
    const sum = directory.readUInt32LE(at + 16);
    const nameLength = directory.readUInt16LE(at + 28);
    const mode = directory.readUInt32LE(at + 38) >>> 16;
    const next = at + 46 + nameLength + directory.readUInt16LE(at + 30) + directory.readUInt16LE(at + 32);
    if (next > end) return no('The archive’s directory is damaged.', 'Copy or download it again.');
    const name = directory.subarray(at + 46, at + 46 + nameLength);
    const sizes = sizesOf(directory.subarray(at, next), nameLength);
    at = next;
    if (!sizes) return no('The archive’s directory is damaged.', 'Copy or download it again.');
    const { packed, unpacked, local } = sizes;
    let path: string;
    try {
      path = decoder.decode(name);
    } catch {
      return no('A file name in the archive is not UTF-8.', 'Make the archive again with names in UTF-8.');
    }
    const wrong = wrongPath(path);
    if (wrong) return no(`“${path.slice(0, 80)}” ${wrong}.`);
    if ((mode & 0o170000) === symlink) return no(`“${path}” is a link to another file.`);
    if ((flags & 1) !== 0) return no(`“${path}” is encrypted.`, 'Make the archive without a password.');
    if (method !== 0 && method !== 8) return no(`“${path}” is packed in a way that is not read here.`, 'Pack it with “deflate”.');
    const folded = path.normalize('NFC').toLowerCase();
    if (names.has(folded)) return no(`“${path}” is in the archive twice.`);
    names.add(folded);
    if (method === 0 && unpacked !== packed) return no(`“${path}” is damaged.`, 'Copy or download it again.');
    all += method === 0 ? 0 : unpacked;
    if (unpacked > limits.fileBytes) return no(`“${path}” would unpack to more than ${limits.fileBytes / mib} MiB.`);
    if (all > limits.allBytes) return no(`The archive would unpack to more than ${limits.allBytes / mib} MiB.`);
    if (unpacked > ratioFrom && unpacked > packed * limits.ratio)
      return no(`“${path}” would unpack to more than ${limits.ratio} times its size.`);
    const head = local + 30 > start ? Buffer.alloc(0) : source.at(local, 30 + nameLength);
    if (head.length < 30 || head.readUInt32LE(0) !== localEntry) return no(`“${path}” is not where the directory says.`);
    const localName = head.readUInt16LE(26);
    const from = local + 30 + localName + head.readUInt16LE(28);
    if (from + packed > start) return no(`“${path}” is cut off.`, 'Copy or download it again.');
    if (localName !== nameLength || !head.subarray(30).equals(name)) return no(`“${path}” has two names.`);
    places.push([local, from + packed, path]);
    entries.set(path, {
      path,
      bytes: unpacked,
      read: () => unpackedOf(path, source.at(from, packed), method, unpacked, sum),
    });
  }
  if (at !== end) return no('The archive’s directory counts its files wrongly.', 'Copy or download it again.');
  places.sort(([a], [b]) => a - b);
  const overlap = places.find(([from], i) => i > 0 && from < (places[i - 1]?.[1] ?? 0));
  if (overlap) return no(`“${overlap[2]}” shares its bytes with another file.`);
  return { ok: true, entries };
}

interface Said {
  count: number;
  size: number;
  start: number;
  parts: boolean;
}
const most16 = 0xffff;
const most32 = 0xffff_ffff;

/** A number of 64 bits; null when no file of ours is so large (2^53 and more). */
const long = (bytes: Buffer, at: number): number | null => {
  const value = bytes.readBigUInt64LE(at);
  return value <= Number.MAX_SAFE_INTEGER ? Number(value) : null;
};

/** What the record at `at` says of the directory, in the ZIP64 form where it says so (§ 4.3.14 to 4.3.16). Null: it does not end there. */
function directoryOf(source: ZipSource, record: Buffer, at: number): Said | null {
  const short: Said = {
    count: record.readUInt16LE(10),
    size: record.readUInt32LE(12),
    start: record.readUInt32LE(16),
    parts: record.readUInt16LE(4) !== 0 || record.readUInt16LE(8) !== record.readUInt16LE(10),
  };
  const large = short.count === most16 || short.size === most32 || short.start === most32;
  if (!large) return short.start + short.size === at ? short : null;
  const locator = at < 20 ? null : source.at(at - 20, 20);
  const from = locator?.readUInt32LE(0) === largeLocator ? long(locator, 8) : null;
  if (!locator || from === null || from + 56 > at - 20) return null;
  const own = source.at(from, 56);
  const [length, count, size, start] = [long(own, 4), long(own, 32), long(own, 40), long(own, 48)];
  if (own.readUInt32LE(0) !== largeEnd || length === null || count === null || size === null || start === null) return null;
  if (from + 12 + length !== at - 20 || start + size !== from) return null;
  // What the short record says too, it says alike.
  const alike = [short.count === most16 || short.count === count, short.size === most32 || short.size === size];
  if (!alike.every(Boolean) || (short.start !== most32 && short.start !== start)) return null;
  return { count, size, start, parts: locator.readUInt32LE(16) > 1 || own.readUInt32LE(16) !== 0 || long(own, 24) !== count };
}

/** Sizes and place of a file of the directory; those that do not fit stand in its extra field no. 1, in this order (§ 4.5.3). */
function sizesOf(entry: Buffer, nameLength: number): { packed: number; unpacked: number; local: number } | null {
  const [packed, unpacked, local] = [entry.readUInt32LE(20), entry.readUInt32LE(24), entry.readUInt32LE(42)];
  const long64 = largeFields(entry.subarray(46 + nameLength, 46 + nameLength + entry.readUInt16LE(30)));
  const own = (short: number) => (short === most32 ? (long64.shift() ?? null) : short);
  const [all, inside, place] = [own(unpacked), own(packed), own(local)];
  return all === null || inside === null || place === null ? null : { packed: inside, unpacked: all, local: place };
}

function largeFields(extra: Buffer): (number | null)[] {
  for (let at = 0; at + 4 <= extra.length; ) {
    const end = at + 4 + extra.readUInt16LE(at + 2);
    if (extra.readUInt16LE(at) === 1 && end <= extra.length)
      return Array.from({ length: Math.floor((end - at - 4) / 8) }, (_, k) => long(extra, at + 4 + 8 * k));
    at = end;
  }
  return [];
}

/** Where the last record begins; below 0 when there is none. Nothing may follow it but its own comment. */
function endOf(file: Buffer): number {
  for (let at = file.length - 22; at >= 0 && at >= file.length - 22 - 0xffff; at--)
    if (file.readUInt32LE(at) === directoryEnd && at + 22 + file.readUInt16LE(at + 20) === file.length) return at;
  return -1;
}

function wrongPath(path: string): string | null {
  if (path === '' || path.length > 200) return 'has no name, or one of more than 200 characters';
  if (/^[/\\]|^[A-Za-z]:/.test(path)) return 'names a place outside the archive';
  if (path.includes('\\')) return 'has a backslash in its name';
  if (path.split('/').some((part) => part === '..' || part === '.')) return 'names a place outside the archive';
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is looked for
  if (/[\u0000-\u001f\u007f]/.test(path)) return 'has control characters in its name';
  return null;
}

/** The directory is only what somebody says: unpacking stops at the size it gave, and the sum is checked. */
function unpackedOf(path: string, packed: Buffer, method: number, size: number, sum: number): ReturnType<ZipEntry['read']> {
  let bytes: Buffer;
  try {
    bytes = method === 0 ? packed : inflateRawSync(packed, { maxOutputLength: Math.max(1, size) });
  } catch {
    return no(`“${path}” is damaged, or larger than the archive’s directory says.`, 'Copy or download it again.');
  }
  if (bytes.length !== size || crc32(bytes) !== sum) return no(`“${path}” is damaged.`, 'Copy or download it again.');
  return { ok: true, bytes };
}
