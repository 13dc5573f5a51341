/** The tables, as drizzle sees them. The migrations make them; a test compares the two. */
import { sql } from 'drizzle-orm';
import { bigint, bigserial, boolean, customType, date, integer, jsonb, pgTable, primaryKey, text, timestamp } from 'drizzle-orm/pg-core';
import type { Role } from '@/lib/access/can';
import type { BoardDesign, Machine } from '@/lib/core/chart/schema';
import { entryKinds } from '@/lib/core/parts/ledger';
import type { Catalogue } from '@/lib/core/parts/schema';

const when = (name: string) => timestamp(name, { withTimezone: true });
const made = (name: string) => when(name).notNull().defaultNow();
const bytea = customType<{ data: Uint8Array; driverData: Buffer }>({ dataType: () => 'bytea', toDriver: (bytes) => Buffer.from(bytes) });
const xid8 = customType<{ data: string }>({ dataType: () => 'xid8' });
const tsvector = customType<{ data: string }>({ dataType: () => 'tsvector' });

// Accounts: the field names are those of the account library.
export const user = pgTable('user', {
  id: text('id').primaryKey(),
  name: text('name').notNull(),
  email: text('email').notNull(),
  emailVerified: boolean('email_verified').notNull().default(false),
  image: text('image'),
  role: text('role').$type<Role>().notNull().default('reader'),
  removedAt: when('removed_at'),
  createdAt: made('created_at'),
  updatedAt: made('updated_at'),
});
export const session = pgTable('session', {
  id: text('id').primaryKey(),
  userId: text('user_id').notNull(),
  token: text('token').notNull(),
  expiresAt: when('expires_at').notNull(),
  ipAddress: text('ip_address'),
  userAgent: text('user_agent'),
  createdAt: made('created_at'),
  updatedAt: made('updated_at'),
});
export const attempt = pgTable('attempt', {
  key: text('key').primaryKey(),
  taken: when('taken').array().notNull(),
});
export const account = pgTable('account', {
  id: text('id').primaryKey(),
  userId: text('user_id').notNull(),
  accountId: text('account_id').notNull(),
  providerId: text('provider_id').notNull(),
  accessToken: text('access_token'),
  refreshToken: text('refresh_token'),
  idToken: text('id_token'),
  accessTokenExpiresAt: when('access_token_expires_at'),
  refreshTokenExpiresAt: when('refresh_token_expires_at'),
  scope: text('scope'),
  password: text('password'),
  createdAt: made('created_at'),
  updatedAt: made('updated_at'),
});
export const verification = pgTable('verification', {
  id: text('id').primaryKey(),
  identifier: text('identifier').notNull(),
  value: text('value').notNull(),
  expiresAt: when('expires_at').notNull(),
  createdAt: made('created_at'),
  updatedAt: made('updated_at'),
});

export const invite = pgTable('invite', {
  id: text('id').primaryKey(),
  hash: text('hash').notNull(),
  role: text('role').$type<Role>().notNull(),
  createdBy: text('created_by'),
  createdAt: made('created_at'),
  expiresAt: when('expires_at').notNull(),
  usedAt: when('used_at'),
  revokedAt: when('revoked_at'),
});
export const accessToken = pgTable('access_token', {
  id: text('id').primaryKey(),
  hash: text('hash').notNull(),
  name: text('name').notNull(),
  member: text('member').notNull(),
  createdAt: made('created_at'),
  revokedAt: when('revoked_at'),
});
export const reportLink = pgTable('report_link', {
  id: text('id').primaryKey(),
  page: text('page').notNull(),
  hash: text('hash').notNull(),
  createdBy: text('created_by'),
  createdAt: made('created_at'),
  revokedAt: when('revoked_at'),
  copy: text('copy'),
  expiresAt: when('expires_at'),
  pass: text('pass'),
  misses: integer('misses').notNull().default(0),
  opened: integer('opened').notNull().default(0),
  openedAt: when('opened_at'),
});
export const writeUp = pgTable('write_up', {
  page: text('page').primaryKey(),
  priced: boolean('priced').notNull(),
});
export const writeUpLine = pgTable(
  'write_up_line',
  {
    page: text('page').notNull(),
    key: text('key').notNull(),
    words: text('words'),
    price: integer('price'),
    over: text('over').notNull(),
    member: text('member'),
    at: made('at'),
  },
  (t) => [primaryKey({ columns: [t.page, t.key] })],
);
export const writeUpCopy = pgTable('write_up_copy', {
  id: text('id').primaryKey(),
  page: text('page').notNull(),
  number: integer('number').notNull(),
  copy: jsonb('copy').$type<unknown>().notNull(),
  member: text('member'),
  at: made('at'),
});

export const boardDesign = pgTable('board_design', {
  id: text('id').primaryKey(),
  chart: jsonb('chart').$type<BoardDesign>().notNull(),
  version: integer('version').notNull(),
  changedBy: text('changed_by'),
  changedAt: made('changed_at'),
});
export const machine = pgTable('machine', {
  id: text('id').primaryKey(),
  design: text('design').notNull(),
  chart: jsonb('chart').$type<Machine>().notNull(),
  version: integer('version').notNull(),
  changedBy: text('changed_by'),
  changedAt: made('changed_at'),
});
export const chartVersion = pgTable(
  'chart_version',
  {
    kind: text('kind').$type<'design' | 'machine'>().notNull(),
    id: text('id').notNull(),
    version: integer('version').notNull(),
    chart: jsonb('chart').$type<unknown>().notNull(),
    changedBy: text('changed_by'),
    changedAt: when('changed_at').notNull(),
  },
  (t) => [primaryKey({ columns: [t.kind, t.id, t.version] })],
);
export const catalogue = pgTable('catalogue', {
  id: integer('id').primaryKey().default(1),
  parts: jsonb('parts').$type<Catalogue>().notNull(),
  version: integer('version').notNull(),
  changedBy: text('changed_by'),
  changedAt: made('changed_at'),
});
export const stockMove = pgTable('stock_move', {
  id: bigserial('id', { mode: 'number' }).primaryKey(),
  part: text('part').notNull(),
  quantity: integer('quantity').notNull(),
  reason: text('reason').notNull(),
  page: text('page'),
  member: text('member'),
  at: made('at'),
  kind: text('kind', { enum: entryKinds }).notNull(),
  held: integer('held').notNull().default(0),
  packs: integer('packs'),
  supplier: text('supplier'),
  price: integer('price'),
  undoes: bigint('undoes', { mode: 'number' }),
  token: text('token'),
});

export const stockPart = pgTable('stock_part', {
  part: text('part').primaryKey(),
  low: integer('low'),
});

export const job = pgTable('job', {
  page: text('page').primaryKey(),
  assigned: text('assigned'),
  aside: text('aside'),
});

export const page = pgTable('page', {
  id: text('id').primaryKey(),
  machine: text('machine'),
  day: date('day', { mode: 'string' }).notNull(),
  createdBy: text('created_by'),
  createdAt: made('created_at'),
  removedBy: text('removed_by'),
  removedAt: when('removed_at'),
  head: bigint('head', { mode: 'number' }).notNull().default(0),
  changedAt: made('changed_at'),
});
export const pageUpdate = pgTable(
  'page_update',
  {
    page: text('page').notNull(),
    member: text('member'),
    at: made('at'),
    bytes: bytea('bytes').notNull(),
    number: bigint('number', { mode: 'number' }).notNull(),
  },
  (t) => [primaryKey({ columns: [t.page, t.number] })],
);
export const pageBase = pgTable('page_base', {
  page: text('page').primaryKey(),
  number: bigint('number', { mode: 'number' }).notNull(),
  bytes: bytea('bytes').notNull(),
});
export const pageStretch = pgTable(
  'page_stretch',
  {
    page: text('page').notNull(),
    number: bigint('number', { mode: 'number' }).notNull(),
    first: bigint('first', { mode: 'number' }).notNull(),
    members: text('members').array().notNull(),
    began: when('began').notNull(),
    at: when('at').notNull(),
    bytes: bytea('bytes').notNull(),
  },
  (t) => [primaryKey({ columns: [t.page, t.number] })],
);
export const pageVersion = pgTable(
  'page_version',
  {
    page: text('page').notNull(),
    number: bigint('number', { mode: 'number' }).notNull(),
    name: text('name').notNull(),
    member: text('member'),
    at: made('at'),
  },
  (t) => [primaryKey({ columns: [t.page, t.number] })],
);
export const thisTransaction = sql`pg_current_xact_id()`;
export const pageIndex = pgTable('page_index', {
  page: text('page').primaryKey(),
  title: text('title').notNull(),
  body: text('body').notNull(),
  state: text('state').$type<'open' | 'mended'>().notNull(),
  record: jsonb('record').$type<unknown>().notNull(),
  indexedAt: made('indexed_at'),
  written: xid8('written').notNull().default(thisTransaction),
  words: tsvector('words').notNull().generatedAlwaysAs('generated by the migration'),
});
export const savedSearch = pgTable('saved_search', {
  id: text('id').primaryKey(),
  member: text('member').notNull(),
  name: text('name').notNull(),
  asked: text('asked').notNull(),
  createdAt: made('created_at'),
});
export const pageFact = pgTable(
  'page_fact',
  {
    page: text('page').notNull(),
    kind: text('kind').notNull(),
    value: text('value').notNull(),
    label: text('label').notNull(),
  },
  (t) => [primaryKey({ columns: [t.page, t.kind, t.value] })],
);
export const pageChart = pgTable('page_chart', {
  page: text('page').primaryKey(),
  machine: text('machine'),
  design: text('design'),
});

export const setting = pgTable('setting', {
  key: text('key').primaryKey(),
  value: text('value').notNull(),
});

export const picture = pgTable('picture', {
  hash: text('hash').primaryKey(),
  width: integer('width').notNull(),
  height: integer('height').notNull(),
  madeAt: made('made_at'),
  removedAt: when('removed_at'),
  removedBy: text('removed_by'),
  brought: boolean('brought').notNull().default(false),
});
export const pagePicture = pgTable(
  'page_picture',
  {
    page: text('page').notNull(),
    picture: text('picture').notNull(),
    member: text('member'),
    at: made('at'),
  },
  (t) => [primaryKey({ columns: [t.page, t.picture] })],
);
export const machinePicture = pgTable(
  'machine_picture',
  {
    machine: text('machine').notNull(),
    picture: text('picture').notNull(),
    member: text('member'),
    at: made('at'),
  },
  (t) => [primaryKey({ columns: [t.machine, t.picture] })],
);
export const letterheadPicture = pgTable('letterhead_picture', {
  picture: text('picture').primaryKey(),
});
export const designPicture = pgTable(
  'design_picture',
  {
    design: text('design').notNull(),
    picture: text('picture').notNull(),
    member: text('member'),
    at: made('at'),
  },
  (t) => [primaryKey({ columns: [t.design, t.picture] })],
);
