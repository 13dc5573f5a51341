/** The spots that are marked in a picture, and how large each is read. */
import type { Spot } from '@/lib/core/wire';

export const spotKinds = ['white', 'wire', 'stripe'] as const;
export type SpotKind = (typeof spotKinds)[number];
export type Spots = Partial<Record<SpotKind, Spot>>;

export const spotNames: Record<SpotKind, { name: string; letter: string; hint: string }> = {
  white: { name: 'White', letter: 'W', hint: 'Touch paper or anything white that lies in the same light.' },
  wire: { name: 'Wire', letter: '1', hint: 'Touch the wire where its own colour shows, off the stripe and off any glint.' },
  stripe: { name: 'Stripe', letter: '2', hint: 'Touch the stripe. If there is none, say so.' },
};

/** px of the picture: the stripe of a wire is a few pixels wide. */
export const spotRadius: Record<SpotKind, number> = { white: 6, wire: 4, stripe: 2 };

/** What is marked after one: what is not marked yet, else the same again. */
export const nextKind = (spots: Spots, now: SpotKind, bare: boolean): SpotKind =>
  spotKinds.find((kind) => !spots[kind] && !(kind === 'stripe' && bare)) ?? now;
