/**
 * What a matrix lamp shows, from what is wrong: columns feed, rows sink, a diode stands at each lamp, and a lamp is always "closed", so
 * that a shorted diode shows at once. Fault model table, from common practice; the shares are from memory.
 */
import { type Harm, suffers } from './scenes';

export type LampHarm =
  | 'supply-dead'
  | 'column-dead' // its driver
  | 'column-cut' // its path to the lamps
  | 'column-on'
  | 'column-grounded'
  | 'columns-joined'
  | 'row-dead'
  | 'row-cut'
  | 'row-on' // driver stuck, or the row touches ground
  | 'row-grounded'
  | 'row-supplied'
  | 'rows-joined'
  | 'weak' // high resistance, or now and then
  | 'own-cut' // socket, lug, wire of one lamp
  | 'bulb'
  | 'bulb-shorted'
  | 'diode-open'
  | 'diode-shorted'
  | 'diode-reversed'
  | 'crossed' // its column touches its row
  | 'mark';

export const lampSymptoms = [
  'lit when commanded',
  'dark',
  'always lit',
  'too bright',
  'dim/flicker',
  'glows faintly',
  'lit with another',
] as const;
export type LampSymptom = (typeof lampSymptoms)[number];

export type LampSeen =
  | { kind: 'lamp'; lamp: string; shows: LampSymptom }
  /** A whole column or row shows the same. */
  | { kind: 'line'; axis: 'column' | 'row'; line: number; shows: LampSymptom }
  /** The pattern with every lamp off: what is lit all the same. */
  | { kind: 'all-off'; lit: readonly string[] }
  /** Only one is commanded: what shows light, it included. */
  | { kind: 'alone'; commanded: string; lit: readonly string[] };

export interface LampSpot {
  number: string;
  column: number;
  row: number;
  led: boolean;
}
type Harms = readonly Harm<LampHarm>[];

const darkens: readonly LampHarm[] = [
  'supply-dead',
  'column-dead',
  'column-cut',
  'column-grounded',
  'row-dead',
  'row-cut',
  'row-supplied',
  'own-cut',
  'bulb',
  'bulb-shorted',
  'diode-open',
  'diode-reversed',
  'crossed',
];
/** Nothing can light it. */
export const isDark = (harms: Harms, { number }: LampSpot): boolean => darkens.some((d) => suffers(harms, d, number));
/** Its row is pulled down in every strobe. */
export const isHeld = (harms: Harms, { number }: LampSpot): boolean =>
  suffers(harms, 'row-on', number) || suffers(harms, 'row-grounded', number);

export function lampShares(
  harms: Harms,
  lamp: LampSpot,
  spotOf: (number: string) => LampSpot | undefined,
): Partial<Record<LampSymptom, number>> {
  if (isDark(harms, lamp)) return { dark: 1 };
  if (isHeld(harms, lamp)) return { 'always lit': 1 };
  if (suffers(harms, 'column-on', lamp.number)) return { 'too bright': 0.7, 'lit with another': 0.3 };
  if (twins(harms, lamp)) return { 'lit with another': 0.6, 'lit when commanded': 0.4 };
  const glow = glowOf(harms, lamp, spotOf);
  if (glow > 0) return { 'glows faintly': 0.8, 'lit when commanded': 0.2 };
  if (suffers(harms, 'weak', lamp.number)) return { 'dim/flicker': 1 };
  return lamp.led ? { 'lit when commanded': 0.95, 'glows faintly': 0.05 } : { 'lit when commanded': 1 };
}

const twins = (harms: Harms, { number }: LampSpot) => suffers(harms, 'columns-joined', number) || suffers(harms, 'rows-joined', number);

/** Tungsten: light goes with the 3.4th power of the volts (published exponent). */
export const lightShare = (voltsShare: number): number => voltsShare ** 3.4;
const visible = 0.05; // of the full light (from memory)

/** Faults that act on other lamps, by a path that nobody meant. */
export const sneaking: ReadonlySet<LampHarm> = new Set(['crossed', 'diode-shorted', 'diode-reversed']);

/**
 * Share of its light with which it glows when another is commanded. A column that touches a row puts two lamps in series; a diode that is
 * shorted or reversed lets three in series pass. LEDs glow plainly at a third of their volts, tungsten cannot be seen then.
 */
export function glowOf(harms: Harms, lamp: LampSpot, spotOf: (number: string) => LampSpot | undefined): number {
  let most = 0;
  for (const h of harms) {
    const series = h.does === 'crossed' ? 2 : h.does === 'diode-shorted' || h.does === 'diode-reversed' ? 3 : 0;
    if (series === 0) continue;
    for (const number of h.on) {
      const at = spotOf(number);
      if (!at || at.number === lamp.number || (at.column === lamp.column) === (at.row === lamp.row)) continue;
      const light = lamp.led ? 1 / series : lightShare(1 / series);
      if (light > visible) most = Math.max(most, light);
    }
  }
  return most;
}

/** True when the lamp shows light while only `commanded` is on. */
export function litWith(harms: Harms, lamp: LampSpot, commanded: LampSpot, spotOf: (number: string) => LampSpot | undefined): boolean {
  if (isDark(harms, lamp)) return false;
  if (lamp.number === commanded.number || isHeld(harms, lamp)) return true;
  const sameRow = lamp.row === commanded.row;
  const sameColumn = lamp.column === commanded.column;
  if (sameRow && suffers(harms, 'column-on', lamp.number)) return true;
  const together = (d: LampHarm) => harms.some((h) => h.does === d && h.on.includes(lamp.number) && h.on.includes(commanded.number));
  if (sameRow && together('columns-joined')) return true;
  if (sameColumn && together('rows-joined')) return true;
  // The sneak path of a fault at (c1, r1) needs a commanded lamp that shares neither line with it.
  return harms.some(
    (h) =>
      sneaking.has(h.does) &&
      h.on.some((number) => {
        const at = spotOf(number);
        if (!at || at.row === commanded.row || at.column === commanded.column) return false;
        const onPath = (lamp.column === at.column && sameRow) || (lamp.row === at.row && sameColumn);
        return onPath && glowOf([h], lamp, spotOf) > 0;
      }),
  );
}
