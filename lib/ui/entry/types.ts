/** A chart as tables of text: what was typed stays as it was typed, whether it can be read or not. */
import type * as z from 'zod';
import type { BoardDesign, Machine, Numbering } from '@/lib/core/chart/schema';
import type { Finding } from '@/lib/core/chart/types';

/** A record of a chart's list, as plain JSON. */
export type Rec = { readonly [key: string]: unknown };
/** What a cell may refer to. */
export interface Around {
  design: BoardDesign;
  switches: ReadonlySet<string>;
  loads: ReadonlySet<string>;
  /** Of a machine: how its numbers are printed. */
  numbering?: Numbering;
}
export type CellRead = { ok: true; value: unknown } | { ok: false; message: string; mend: string };
export interface CellType {
  show(value: unknown, around: Around): string;
  /** Of a text that is not blank. */
  read(text: string, around: Around): CellRead;
  /** What may be written, to choose from. */
  choices?: readonly string[];
  /** Offered from what the design has. */
  offer?(around: Around): string[];
}
export interface ColumnSpec {
  path: string; // in the record; a dot goes into an object
  head: string;
  type: CellType;
  width?: 'narrow' | 'wide';
  /** Without it the row cannot be kept. */
  need?: boolean;
  /** Designators and numbers. */
  mono?: boolean;
}
export interface TableSpec {
  key: string;
  title: string;
  /** Said where the table is empty, and above it. */
  about: string;
  columns: readonly ColumnSpec[];
  shape: z.ZodType;
  /** Paths that name a row; a place that has nothing else is not filled in. */
  names: readonly string[];
  /** The record that comes of the columns' values, for fields that follow from others. */
  complete?(record: Record<string, unknown>): Record<string, unknown>;
}
export interface SheetRow {
  readonly id: number; // of this row as long as the sheet lives
  readonly cells: readonly string[];
  /** The record that it was made from; a cell whose text is as it was keeps its value exactly. */
  readonly from?: Rec;
  /** Its index in the chart's list. */
  readonly index?: number;
  /** A row that stands ready because the board design has such a place. */
  readonly place?: true;
}
export interface Sheet {
  readonly kind: 'machine' | 'design';
  /** What the tables do not show; of a machine also the lists as they were. */
  readonly machine: Machine | null;
  readonly design: BoardDesign;
  readonly tables: Readonly<Record<string, readonly SheetRow[]>>;
  readonly nextId: number;
}
/** What is said about one cell; without a row it is about the table. */
export interface CellFinding extends Finding {
  table: string;
  row: number | null; // id
  column: number; // index
  /** The cell or row is not in the chart that is saved; it stays on this device. */
  unsaved?: true;
}
