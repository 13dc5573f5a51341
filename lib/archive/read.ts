/** An archive that was brought: unpacked, checked against its manifest, and read by the shapes of every file. */
import { createHash } from 'node:crypto';
import * as z from 'zod';
import { importJson } from '@/lib/core/chart/entry';
import type { BoardDesign, Machine } from '@/lib/core/chart/schema';
import { readCatalogue } from '@/lib/core/parts';
import type { Catalogue } from '@/lib/core/parts/schema';
import { sizesOf } from '@/lib/files/limits';
import { isId } from '@/lib/notebook/ids';
import { isAllowedUrl } from '@/lib/notebook/links';
import { schema } from '@/lib/notebook/schema';
import type { PageContent } from '@/lib/notebook/types';
import { nodesIn } from '@/lib/notebook/walk';
import type { Letterhead } from '@/lib/notebook/writeup/letterhead';
import { thesaurusShape } from '@/lib/search/thesaurus';
import {
  archiveFormat,
  archiveVersion,
  letterheadFile,
  type Manifest,
  type MemberName,
  manifest,
  members,
  type PageFile,
  type PictureEntry,
  pageFile,
  pictureList,
  type StockFile,
  stockFile,
  type WriteUpFile,
  writeUpFile,
} from './format';
import { picturePath } from './picture-files';
import { limits, type Refusal, readZip, type ZipEntry } from './zip-read';
import type { ZipSource } from './zip-source';

export interface Archive {
  manifest: Manifest;
  members: MemberName[];
  designs: BoardDesign[];
  machines: Machine[];
  catalogue: Catalogue;
  stock: StockFile;
  pages: PageFile[];
  /** By page; without one the archive says nothing of its write-up. */
  writeUps: ReadonlyMap<string, WriteUpFile>;
  letterhead: Letterhead | null;
  pictures: ArchivePicture[];
  groups: string[][] | null; // of the club's own thesaurus
}
export interface ArchivePicture extends PictureEntry {
  /** Its files by size, unpacked and held against the manifest only now; or what speaks against one. */
  files(): { ok: true; files: { size: number; bytes: Uint8Array }[] } | Refusal;
}

/** Stops reading at the first thing that is wrong. */
class Wrong extends Error {
  constructor(
    message: string,
    readonly mend: string,
  ) {
    super(message);
  }
}
const again = 'Use the archive as it was exported, or export it again.';
const decoder = new TextDecoder('utf-8', { fatal: true, ignoreBOM: false });

/** All of an archive, or the first thing that speaks against it. Nothing is kept by reading. */
export function readArchive(source: ZipSource): { ok: true; archive: Archive } | Refusal {
  const zip = readZip(source);
  if (!zip.ok) return zip;
  const outcome = refusing(() => read(zip.entries));
  return outcome.ok ? { ok: true, archive: outcome.value } : outcome;
}

function refusing<T>(work: () => T): { ok: true; value: T } | Refusal {
  try {
    return { ok: true, value: work() };
  } catch (error) {
    if (error instanceof Wrong) return { ok: false, message: error.message, mend: error.mend };
    if (error instanceof RangeError) return { ok: false, message: 'Something in the archive is nested too deep.', mend: again };
    throw error;
  }
}

function read(entries: Map<string, ZipEntry>): Archive {
  const said = manifestOf(entries);
  const sums = new Map(said.files.map((f) => [f.path, f]));
  for (const { path } of said.files) if (!entries.has(path)) throw new Wrong(`“${path}” is missing from the archive.`, again);
  for (const path of entries.keys())
    if (path !== 'manifest.json' && !sums.has(path)) throw new Wrong(`“${path}” is in the archive, but not in its manifest.`, again);
  const checked = (path: string): Uint8Array => {
    const bytes = bytesOf(entries.get(path), path);
    if (createHash('sha256').update(bytes).digest('hex') !== sums.get(path)?.sha256)
      throw new Wrong(`“${path}” is not what the manifest says.`, again);
    return bytes;
  };
  let all = 0;
  const text = (path: string): string => {
    all += entries.get(path)?.bytes ?? 0; // what is not packed counts too
    if (all > limits.allBytes) throw new Wrong(`The archive has more than ${limits.allBytes / 1024 / 1024} MiB of text.`, again);
    return textOf(checked(path), path);
  };
  const optional = <T>(path: string, shape: z.ZodType<T>, none: T): T =>
    entries.has(path) ? shaped(path, shape, jsonOf(text(path), path)) : none;
  const under = (pattern: RegExp) => [...entries.keys()].filter((path) => pattern.test(path));
  const charts = (pattern: RegExp) =>
    under(pattern).map((path) => {
      const chart = importJson(text(path));
      if (chart.ok) return chart.value;
      const [finding] = chart.findings;
      throw new Wrong(`${path}: ${finding?.message ?? 'it cannot be read'}`, finding?.mend ?? again);
    });
  const catalogue = readCatalogue(
    entries.has('catalogue.json') ? jsonOf(text('catalogue.json'), 'catalogue.json') : { format: 'fettlebook-parts/1', parts: [] },
  );
  if (!catalogue.ok) throw new Wrong(`catalogue.json: ${catalogue.findings[0]?.message}`, catalogue.findings[0]?.mend ?? again);
  const machines = charts(/^machines\/[^/]+\/chart\.json$/).flatMap((c) => c.machine ?? []);
  const designs = charts(/^designs\/[^/]+\/chart\.json$/).map((c) => c.design);
  const pages = under(/^pages\/[^/]+\/page\.json$/).map((path) => {
    const page = shaped(path, pageFile, jsonOf(text(path), path));
    for (const content of [page.content, ...page.points.map((p) => p.content)]) checkContent(path, content);
    return page;
  });
  const writeUps = new Map<string, WriteUpFile>();
  for (const { id } of pages) {
    const path = `pages/${id}/write-up.json`;
    if (entries.has(path)) writeUps.set(id, shaped(path, writeUpFile, jsonOf(text(path), path)));
  }
  const pictures = optional('pictures.json', pictureList, []).map((entry): ArchivePicture => {
    const sizes = entry.removedAt === null ? sizesOf(entry) : [];
    for (const size of sizes)
      if (!entries.has(picturePath(entry.hash, size)))
        throw new Wrong(`“${picturePath(entry.hash, size)}” is missing from the archive.`, again);
    const files = () => sizes.map((size) => ({ size, bytes: checked(picturePath(entry.hash, size)) }));
    return {
      ...entry,
      files() {
        const outcome = refusing(files);
        return outcome.ok ? { ok: true, files: outcome.value } : outcome;
      },
    };
  });
  const named = { page: pages, machine: machines, 'board design': designs, picture: pictures.map(({ hash }) => ({ id: hash })) };
  for (const [what, ids] of Object.entries(named)) {
    const known = new Set<string>();
    const twice = ids.find(({ id }) => known.size === known.add(id).size);
    if (twice) throw new Wrong(`The ${what} ${twice.id} is in the archive twice.`, again);
  }
  return {
    manifest: said,
    members: optional('members.json', members, []),
    designs,
    machines,
    catalogue: catalogue.value,
    stock: optional('stock.json', stockFile, []),
    pages,
    writeUps,
    letterhead: optional('letterhead.json', letterheadFile.nullable(), null),
    pictures,
    groups: optional('thesaurus.json', thesaurusShape.nullable(), null)?.groups ?? null,
  };
}

function manifestOf(entries: Map<string, ZipEntry>): Manifest {
  if (!entries.has('manifest.json')) throw new Wrong('There is no manifest.json in this file: it is no archive of a notebook.', again);
  const json = jsonOf(textOf(bytesOf(entries.get('manifest.json'), 'manifest.json'), 'manifest.json'), 'manifest.json');
  const kind = z.object({ format: z.string(), version: z.number() }).safeParse(json);
  if (!kind.success || kind.data.format !== archiveFormat) throw new Wrong('The manifest is not that of a notebook’s archive.', again);
  if (kind.data.version > archiveVersion)
    throw new Wrong(
      `The archive has version ${kind.data.version}; up to ${archiveVersion} is read here.`,
      'Bring this notebook up to date first.',
    );
  return shaped('manifest.json', manifest, json);
}

function bytesOf(entry: ZipEntry | undefined, path: string): Uint8Array {
  const unpacked = entry?.read();
  if (!unpacked) throw new Wrong(`“${path}” is missing from the archive.`, again);
  if (!unpacked.ok) throw new Wrong(unpacked.message, unpacked.mend);
  return unpacked.bytes;
}

function textOf(bytes: Uint8Array, path: string): string {
  try {
    return decoder.decode(bytes);
  } catch {
    throw new Wrong(`“${path}” is not UTF-8.`, 'Save it in UTF-8, or use the archive as it was exported.');
  }
}

function jsonOf(text: string, path: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    throw new Wrong(`“${path}” is no JSON.`, again);
  }
}

function shaped<T>(path: string, shape: z.ZodType<T>, json: unknown): T {
  const result = shape.safeParse(json);
  if (result.success) return result.data;
  const [issue] = result.error.issues;
  throw new Wrong(`${path}: ${issue?.path.map(String).join('.') || 'the file'}: ${issue?.message}`, again);
}

/** Content that the notebook can hold: nodes of its schema, links that run nothing, widgets under proper ids. */
function checkContent(path: string, content: PageContent): void {
  try {
    schema.nodeFromJSON(content.doc).check();
  } catch (error) {
    throw new Wrong(`${path}: the text does not fit this notebook (${error instanceof Error ? error.message : 'no reason given'}).`, again);
  }
  if (content.doc.type !== 'doc') throw new Wrong(`${path}: the text does not begin with “doc”.`, again);
  for (const node of nodesIn(content.doc)) {
    if (node.type === 'widget' && !isId(node.attrs?.id)) throw new Wrong(`${path}: a widget has no proper id.`, again);
    for (const mark of node.marks ?? [])
      if (mark.type === 'link' && !isAllowedUrl(mark.attrs?.href))
        throw new Wrong(`${path}: a link leads to an address that is not allowed.`, again);
  }
}
