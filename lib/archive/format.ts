/** The archive's own shapes: what each file in it holds. Charts and the catalogue have formats of their own. */
import * as z from 'zod';
import { entryKinds } from '@/lib/core/parts/ledger';
import { mostSide } from '@/lib/files/limits';
import type { DocNode } from '@/lib/notebook/types';
import { copyShape } from '@/lib/notebook/writeup/copy';
import { letterhead } from '@/lib/notebook/writeup/letterhead';
import { thesaurusShape } from '@/lib/search/thesaurus';

export const archiveFormat = 'fettlebook-archive';
export const archiveVersion = 3;

const id = z.string().regex(/^[A-Za-z0-9_-]{1,64}$/, 'write 1 to 64 letters, digits, hyphens and underscores');
const time = z.iso.datetime();
const member = z.string().min(1).max(64).nullable(); // an id of members.json; null: the house
const path = z.string().min(1).max(200);

export const manifest = z.object({
  format: z.literal(archiveFormat),
  version: z.union([z.literal(1), z.literal(2), z.literal(archiveVersion)]), // 1 had no pictures and no thesaurus, 2 no write-ups
  scope: z.enum(['page', 'machine', 'club']),
  club: z.string().max(200),
  madeAt: time,
  /** Every other file of the archive, with its size in bytes and its SHA-256 in hexadecimal digits. */
  files: z.array(z.object({ path, bytes: z.number().int().min(0), sha256: z.string().regex(/^[0-9a-f]{64}$/) })),
});

/** Names of those who wrote, for attribution; never an address, a password or a token. */
export const members = z.array(z.object({ id: z.string().min(1).max(64), name: z.string().trim().min(1).max(200) }));

const docNode: z.ZodType<DocNode> = z.lazy(() =>
  z.object({
    type: z.string().max(64),
    attrs: z.record(z.string(), z.unknown()).optional(),
    content: z.array(docNode).optional(),
    text: z.string().optional(),
    marks: z.array(z.object({ type: z.string().max(64), attrs: z.record(z.string(), z.unknown()).optional() })).optional(),
  }),
);
/** What a page says: its text as a tree, and what was chosen and ticked in each widget, by widget id. */
export const pageContent = z.object({ doc: docNode, widgets: z.record(z.string(), z.record(z.string(), z.unknown())) });

export const pageFile = z.object({
  id,
  machine: z.string().min(1).max(80).nullable(),
  on: z.iso.date(), // day of the work
  createdAt: time,
  createdBy: member,
  changedAt: time,
  content: pageContent,
  /** The page at each point that was given a name, oldest first. */
  points: z.array(z.object({ name: z.string().trim().min(1).max(80), at: time, by: member, content: pageContent })).max(1000),
});

/** The write-up of a page: how it was worded, and the copies that were sent. The links to them stay behind. */
export const writeUpFile = z.object({
  priced: z.boolean(),
  lines: z
    .array(
      z.object({
        key: z.string().min(1).max(200),
        words: z.string().max(20_000).nullable(), // null: as the page has it; empty: left out
        price: z.number().int().min(0).max(2_147_483_647).nullable(), // minor units
        over: z.string().max(20_000), // what the page said when it was worded
        by: member,
        at: time,
      }),
    )
    .max(10_000),
  copies: z.array(z.object({ number: z.number().int().min(1).max(2_147_483_647), copy: copyShape, by: member, at: time })).max(10_000),
});
export const letterheadFile = letterhead;

/** Movements of stock, oldest first. */
export const stockFile = z.array(
  z.object({
    part: z.string().min(1).max(80),
    quantity: z.number().int().min(-2_147_483_648).max(2_147_483_647), // pieces in; out is below zero
    kind: z.enum(entryKinds),
    held: z.number().int().min(-2_147_483_648).max(2_147_483_647), // pieces reserved for the page
    packs: z.number().int().min(1).max(2_147_483_647).nullable(),
    supplier: z.string().max(200).nullable(),
    price: z.number().int().min(0).max(2_147_483_647).nullable(), // minor units, for all of it
    undoes: z.number().int().min(0).nullable(), // place in this list of the movement that was taken back
    reason: z.string().max(500),
    page: id.nullable(),
    by: member,
    at: time,
  }),
);

/** Pictures that the pages, charts, copies and letterheads show. Each stands in `pictures/<hash>/<size>.jpg`, in every size that it is kept in. */
export const pictureList = z.array(
  z.object({
    hash: z.string().regex(/^[0-9a-f]{64}$/, 'write a SHA-256 in hexadecimal digits'), // of the file that was once sent; it is the picture’s name
    width: z.number().int().min(1).max(mostSide), // upright, as it was sent
    height: z.number().int().min(1).max(mostSide),
    removedAt: time.nullable(), // it was removed for good, and has no files
  }),
);

export type Manifest = z.infer<typeof manifest>;
export type PageFile = z.infer<typeof pageFile>;
export type PictureEntry = z.infer<typeof pictureList>[number];
export type StockFile = z.infer<typeof stockFile>;
export type WriteUpFile = z.infer<typeof writeUpFile>;
export type MemberName = z.infer<typeof members>[number];

/** JSON Schema (draft 2020-12) of the files of an archive, by the name under which each stands in it. */
export const archiveSchema = (): Record<string, unknown> => ({
  $schema: 'https://json-schema.org/draft/2020-12/schema',
  title: `${archiveFormat}, version ${archiveVersion}`,
  $defs: Object.fromEntries(
    Object.entries({
      'letterhead.json': letterheadFile,
      'manifest.json': manifest,
      'members.json': members,
      'page.json': pageFile,
      'pictures.json': pictureList,
      'stock.json': stockFile,
      'thesaurus.json': thesaurusShape,
      'write-up.json': writeUpFile,
    }).map(([name, shape]) => [name, z.toJSONSchema(shape, { io: 'input' })]),
  ),
});
