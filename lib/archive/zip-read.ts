/** Reads a ZIP that comes from a stranger: everything that could do harm is refused before anything is unpacked. */
import { crc32, inflateRawSync } from 'node:zlib';

export const limits = {
  archiveBytes: 256 * 1024 * 1024,
  files: 65_535,
  fileBytes: 32 * 1024 * 1024, // unpacked
  allBytes: 256 * 1024 * 1024, // unpacked
  ratio: 250, // of a file over 1 MiB; text packs to a fiftieth at best
};
const ratioFrom = 1024 * 1024;

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
const directoryEntry = 0x02014b50;
const localEntry = 0x04034b50;
const symlink = 0o120000;
const decoder = new TextDecoder('utf-8', { fatal: true });

/** The files of an archive by path, none of them unpacked yet; or the first thing that speaks against it. */
export function readZip(bytes: Uint8Array): { ok: true; entries: Map<string, ZipEntry> } | Refusal {
  if (bytes.length > limits.archiveBytes)
    return no(`The archive is larger than ${limits.archiveBytes / 1024 / 1024} MiB.`, 'Take the club away machine by machine.');
  const file = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const end = endOf(file);
  if (end < 0) return no('This is no ZIP file, or its end is missing.', 'Copy or download it again.');
  const count = file.readUInt16LE(end + 10);
  const size = file.readUInt32LE(end + 12);
  const start = file.readUInt32LE(end + 16);
  if (count === 0xffff || start === 0xffffffff) return no('The archive uses the ZIP64 form, which is not read here.');
  if (file.readUInt16LE(end + 4) !== 0 || file.readUInt16LE(end + 8) !== count) return no('The archive is in several parts.');
  if (start + size !== end) return no('The archive’s directory does not end where it should.', 'Copy or download it again.');
  const entries = new Map<string, ZipEntry>();
  const names = new Set<string>();
  const places: [from: number, to: number, path: string][] = [];
  let all = 0;
  let at = start;
  for (let i = 0; i < count; i++) {
    if (at + 46 > end || file.readUInt32LE(at) !== directoryEntry)
      return no('The archive’s directory is damaged.', 'Copy or download it again.');
    const flags = file.readUInt16LE(at + 8);
    const method = file.readUInt16LE(at + 10);
    const sum = file.readUInt32LE(at + 16);
    const packed = file.readUInt32LE(at + 20);
    const unpacked = file.readUInt32LE(at + 24);
    const nameLength = file.readUInt16LE(at + 28);
    const mode = file.readUInt32LE(at + 38) >>> 16;
    const local = file.readUInt32LE(at + 42);
    const next = at + 46 + nameLength + file.readUInt16LE(at + 30) + file.readUInt16LE(at + 32);
    if (next > end) return no('The archive’s directory is damaged.', 'Copy or download it again.');
    const name = file.subarray(at + 46, at + 46 + nameLength);
    at = next;
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
    all += unpacked;
    if (unpacked > limits.fileBytes) return no(`“${path}” would unpack to more than ${limits.fileBytes / 1024 / 1024} MiB.`);
    if (all > limits.allBytes) return no(`The archive would unpack to more than ${limits.allBytes / 1024 / 1024} MiB.`);
    if (unpacked > ratioFrom && unpacked > packed * limits.ratio)
      return no(`“${path}” would unpack to more than ${limits.ratio} times its size.`);
    if (local + 30 > start || file.readUInt32LE(local) !== localEntry) return no(`“${path}” is not where the directory says.`);
    const from = local + 30 + file.readUInt16LE(local + 26) + file.readUInt16LE(local + 28);
    if (from + packed > start) return no(`“${path}” is cut off.`, 'Copy or download it again.');
    if (!file.subarray(local + 30, local + 30 + file.readUInt16LE(local + 26)).equals(name)) return no(`“${path}” has two names.`);
    places.push([local, from + packed, path]);
    entries.set(path, {
      path,
      bytes: unpacked,
      read: () => unpackedOf(path, file.subarray(from, from + packed), method, unpacked, sum),
    });
  }
  if (at !== end) return no('The archive’s directory counts its files wrongly.', 'Copy or download it again.');
  places.sort(([a], [b]) => a - b);
  const overlap = places.find(([from], i) => i > 0 && from < (places[i - 1]?.[1] ?? 0));
  if (overlap) return no(`“${overlap[2]}” shares its bytes with another file.`);
  return { ok: true, entries };
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
