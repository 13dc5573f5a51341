/** The stock ledger as plain data: what an entry may do to a part, and what to order. */
import type { Part } from './schema';

export const entryKinds = ['received', 'counted', 'used', 'reserved', 'released', 'corrected'] as const;
export type EntryKind = (typeof entryKinds)[number];

/** Pieces of one part. */
export interface Balance {
  onHand: number;
  reserved: number; // of those on hand, kept for jobs
  here: number; // of those reserved, for the job that asks; 0 without one
}
/** What an entry changes, in pieces. */
export interface Change {
  quantity: number; // on hand
  held: number; // reserved
}
/** What somebody wants to write down. Pieces are whole and above zero; a count may be zero. */
export type Wish = { kind: 'received' | 'used' | 'reserved' | 'released'; pieces: number } | { kind: 'counted'; pieces: number };

/** What the job that asks may take: what nobody else has reserved. */
export const takeable = ({ onHand, reserved, here }: Balance): number => Math.max(0, onHand - (reserved - here));
/** What nobody has reserved. Below zero when a count found fewer than are reserved. */
export const free = ({ onHand, reserved }: Pick<Balance, 'onHand' | 'reserved'>): number => onHand - reserved;

/** The change that a wish makes; or, when there are too few, how many there are at most. */
export function changeOf({ kind, pieces }: Wish, balance: Balance): Change | { atMost: number } {
  switch (kind) {
    case 'received':
      return { quantity: pieces, held: 0 };
    case 'counted':
      return { quantity: pieces - balance.onHand, held: 0 };
    case 'used':
      return pieces <= takeable(balance) ? { quantity: -pieces, held: -Math.min(pieces, balance.here) } : { atMost: takeable(balance) };
    case 'reserved':
      return pieces <= free(balance) ? { quantity: 0, held: pieces } : { atMost: Math.max(0, free(balance)) };
    case 'released':
      return pieces <= balance.here ? { quantity: 0, held: -pieces } : { atMost: balance.here };
  }
}

/** A part of which fewer are free than there should be. */
export interface LowLine {
  part: string;
  name: string;
  free: number;
  low: number; // how many there should be at least
  packs: number; // to order, whole packs
  pieces: number;
  pack: number;
  cost: number | null; // minor units; null without a price
  supplier: string;
}

/** What is low, and how many whole packs bring it back to what there should be; in the order of the catalogue. */
export function lowParts(
  parts: readonly Part[],
  balances: Readonly<Record<string, Pick<Balance, 'onHand' | 'reserved'>>>,
  lows: Readonly<Record<string, number>>,
): LowLine[] {
  return parts.flatMap((part): LowLine[] => {
    const low = lows[part.id];
    const left = free(balances[part.id] ?? { onHand: 0, reserved: 0 });
    if (low === undefined || left >= low) return [];
    const packs = Math.ceil((low - left) / part.pack);
    return [
      {
        part: part.id,
        name: part.name,
        free: left,
        low,
        packs,
        pieces: packs * part.pack,
        pack: part.pack,
        cost: part.packPence === undefined ? null : packs * part.packPence,
        supplier: part.supplier ?? '',
      },
    ];
  });
}
