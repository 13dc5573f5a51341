/** The club's parts catalogue and stock, as plain JSON. Part numbers and suppliers are the club's own. */
import * as z from 'zod';

const base = {
  id: z.string().regex(/^[A-Z0-9][A-Z0-9-]{0,31}$/, 'use capital letters, digits and hyphens, such as T-254-S'),
  name: z.string().min(1).max(120),
  supplier: z.string().max(80).optional(),
  pack: z.number().int().min(1).default(1), // sold in packs of
  packPence: z.number().int().min(0).optional(), // price of one pack, minor units of the club's currency
  place: z.string().max(60).optional(), // bin or drawer
};
const pitch = z.number().positive();
const pinRows = z.union([z.literal(1), z.literal(2)]).optional(); // rows of pins; absent: 1
const pinShape = z.enum(['square', 'round']);
const pinSize = z.number().positive().max(5); // mm: side of a square pin, diameter of a round one
export const part = z.discriminatedUnion('kind', [
  z.object({
    ...base,
    kind: z.literal('housing'),
    pitchMm: pitch,
    positions: z.number().int().min(1).max(60),
    cut: z.enum(['sawn', 'scored', 'no']),
    terminals: z.array(z.string()).min(1),
    rows: pinRows,
  }),
  z.object({
    ...base,
    kind: z.literal('terminal'),
    pitchMm: pitch,
    awg: z.tuple([z.number(), z.number()]), // thickest, thinnest: [18, 20]
    insulationMm: z.tuple([z.number(), z.number()]), // least, greatest outer diameter
    plating: z.enum(['tin', 'gold']),
    amps: z.number().positive(), // maker's rating for one loaded position, at the thickest wire
    ratedWires: z.number().int().min(1).default(1), // wires the maker rates in one terminal
    stripMm: z.number().positive(),
    /** [positions loaded in the housing, share of `amps` left], from the part's data sheet. Absent: the table in harness/derate.ts. */
    derate: z.array(z.tuple([z.number().int().min(1), z.number().gt(0).max(1)])).optional(),
    gender: z.enum(['pin', 'socket']).optional(), // absent: a socket, which goes on a pin
    contact: z.enum(['one-sided', 'two-sided']).optional(), // on how many sides it holds the pin
    pin: pinShape.optional(), // shape and size of the pin that it is made for
    pinMm: pinSize.optional(),
  }),
  z.object({ ...base, kind: z.literal('key'), pitchMm: pitch }),
  z.object({
    ...base,
    kind: z.literal('header'),
    pitchMm: pitch,
    positions: z.number().int().min(1).max(60),
    plating: z.enum(['tin', 'gold']),
    cut: z.enum(['sawn', 'scored', 'no']),
    rows: pinRows,
    pin: pinShape.optional(),
    pinMm: pinSize.optional(),
  }),
  z.object({
    ...base,
    kind: z.literal('splice'),
    awg: z.tuple([z.number(), z.number()]), // thickest, thinnest, of all conductors in it together
  }),
  z.object({ ...base, kind: z.literal('other') }),
]);
export const catalogue = z.object({
  format: z.literal('fettlebook-parts/1'),
  currency: z.string().length(3).default('GBP'),
  parts: z.array(part),
});
/** Opening stock of the demo club: quantity on hand by part id. */
export const stockCount = z.record(z.string(), z.number().int().min(0));

export type Part = z.infer<typeof part>;
export type Catalogue = z.infer<typeof catalogue>;
export type HousingPart = Extract<Part, { kind: 'housing' }>;
export type HeaderPart = Extract<Part, { kind: 'header' }>;
export type SplicePart = Extract<Part, { kind: 'splice' }>;
export type TerminalPart = Extract<Part, { kind: 'terminal' }>;
/** Quantity on hand by part id; a missing id means none. */
export type Stock = Readonly<Record<string, number>>;

/** A page that has pieces of a part reserved. */
export interface StockHolder {
  page: string;
  title: string;
  pieces: number;
}
/** What of the stock is spoken for, seen from one page; pieces by part id, a missing id means none. */
export interface Reserved {
  here: Stock; // reserved by this page
  elsewhere: Stock; // reserved by others
  /** Who those are, most first. Absent: not asked for. */
  holders?: Readonly<Record<string, readonly StockHolder[]>>;
  used: Stock; // taken by this page already
}

/** Something a page needs. Either a catalogue part or a line in plain words. */
export interface Need {
  part?: string; // catalogue id
  name: string;
  quantity: number;
  from: string; // "connector plan A3J4", "fix record", "typed"
  note?: string;
}
export interface TallyLine {
  part?: string;
  name: string;
  needed: number;
  from: string[];
  onHand: number | null; // null: not a catalogue part
  reserved: number; // by this page
  elsewhere: number; // of those on hand, reserved by other pages
  holders: readonly StockHolder[]; // of those, most first
  used: number; // taken by this page already
  short: number; // needed beyond what this page took and may take
  packs: number; // packs to order
  toOrder: number; // pieces ordered, packs × pack size
  costPence: number | null; // of what is ordered; null when no price is known
  supplier: string;
  place: string;
  notes: string[];
}
export interface Tally {
  lines: TallyLine[];
  currency: string;
  orderPence: number; // sum of known prices
  unpriced: number; // lines to order without a price
}
