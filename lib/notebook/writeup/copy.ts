/**
 * A write-up as the customer reads it: plain data, all that is needed to draw it. Sending keeps one of these, so that nothing that is
 * changed afterwards changes what the customer saw.
 */
import * as z from 'zod';
import { head, type Letterhead } from './letterhead';
import { isPriced, type SectionId, sections } from './types';
import type { DraftLine } from './wording';

const spot = z.object({ x: z.number(), y: z.number() });
const photo = z.object({
  picture: z.string().regex(/^[0-9a-f]{64}$/),
  width: z.number().positive(),
  height: z.number().positive(),
  caption: z.string(),
  marks: z.array(
    z.object({ sort: z.enum(['arrow', 'number', 'pin']), number: z.number(), from: spot.nullable(), to: spot, label: z.string() }),
  ),
});
const line = z.object({ text: z.string(), price: z.number().int().nullable(), photo: photo.nullable() });
const ids = sections.map(({ id }) => id);

export const copyShape = z.object({
  format: z.literal('fettlebook-write-up/1'),
  head,
  title: z.string(),
  machine: z.string(),
  on: z.string(), // day of the page
  currency: z.string().nullable(), // null: without prices
  sections: z.array(z.object({ id: z.enum(ids), name: z.string(), lines: z.array(line) })),
  /** Whether the repair was proved when it was sent; absent where that was not noted. Not shown. */
  proved: z.boolean().optional(),
});
export type Copy = z.infer<typeof copyShape>;
export type CopyLine = z.infer<typeof line>;

export interface Frame {
  letterhead: Letterhead;
  machine: string;
  on: string;
  priced: boolean;
  proved: boolean;
}

/** The write-up whole. Lines that are left out or gone are not in it, and no price unless prices are wanted. */
export function copyOf(draft: readonly DraftLine[], { letterhead, machine, on, priced, proved }: Frame): Copy {
  const { name, address, logo, currency } = letterhead;
  const shown = draft.filter(({ standing }) => standing !== 'out' && standing !== 'gone');
  const of = (id: SectionId): CopyLine[] => {
    const lines = shown
      .filter(({ section }) => section === id)
      .map(({ text, price, photo: taken }) => ({ text, price: priced && isPriced(id) ? price : null, photo: taken && plainPhoto(taken) }));
    if (id === 'photos') return lines.map((each, at) => ({ ...each, text: each.text || `Photo ${at + 1}` }));
    const unproved = id === 'proof' && !draft.some(({ section }) => section === id);
    return unproved ? [{ text: 'Not proved yet.', price: null, photo: null }] : lines;
  };
  return {
    format: 'fettlebook-write-up/1',
    head: { name, address, logo },
    title: shown.find(({ section }) => section === 'title')?.text ?? '',
    machine,
    on,
    currency: priced ? currency : null,
    sections: sections.flatMap(({ id, name: title }) => {
      const lines = id === 'title' ? [] : of(id);
      return lines.length > 0 ? [{ id, name: title, lines }] : [];
    }),
    proved,
  };
}

/** What the widget keeps of a photo beside what is shown stays here. */
const plainPhoto = ({ picture, width, height, caption, marks }: NonNullable<DraftLine['photo']>): CopyLine['photo'] => ({
  picture,
  width,
  height,
  caption,
  marks: marks.map(({ sort, number, from, to, label }) => ({ sort, number, from, to, label })),
});

const said = copyShape.omit({ proved: true });
/** Whether two copies say the same. */
export const isSame = (a: Copy, b: Copy) => JSON.stringify(said.parse(a)) === JSON.stringify(said.parse(b));

/** What all priced lines come to, and how many have no price; null while prices are left out or there is nothing to pay for. */
export function sumOf({ sections: all, currency }: Copy): { total: number; without: number } | null {
  const lines = all.flatMap(({ id, lines: own }) => (isPriced(id) ? own : []));
  if (currency === null || lines.length === 0) return null;
  return {
    total: lines.reduce((sum, { price }) => sum + (price ?? 0), 0),
    without: lines.filter(({ price }) => price === null).length,
  };
}

/** Hashes of the photos that it shows, without the logo. */
export const photosOf = ({ sections: all }: Copy): string[] =>
  all.flatMap(({ lines }) => lines.flatMap((each) => (each.photo ? [each.photo.picture] : [])));

/** What is said beneath a photo: its words and its numbered marks. */
export const captionOf = ({ text, photo: shown }: CopyLine): string =>
  [text, ...(shown?.marks ?? []).map((m) => (m.sort === 'number' && m.label ? `${m.number} ${m.label}` : ''))].filter(Boolean).join('; ');
