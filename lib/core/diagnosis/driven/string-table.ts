/** What a string of lamps shows, and the drops a meter reads across its terminals. Fault model table, from common practice; shares from memory. */
import { blurred, type Harm, slip, suffers } from './scenes';

export type StringHarm =
  | 'fuse-open'
  | 'clip-high'
  | 'dark' // winding, relay, dimmer, the only pin of a leg
  | 'dim'
  | 'flicker'
  | 'dark-beyond' // a socket of the bus
  | 'dim-beyond'
  | 'one-dark'
  | 'lamp-dead'
  | 'shorted'
  | 'terminal-high'
  | 'terminal-open'
  | 'joint-high'
  | 'joint-open'
  | 'mark';
type Harms = readonly Harm<StringHarm>[];

export const stringSymptoms = [
  'lit',
  'dark',
  'dim',
  'flickers',
  'dark beyond one socket',
  'dim beyond one socket',
  'one dark',
  'fuse blows',
] as const;
export type StringSymptom = (typeof stringSymptoms)[number];

export type StringSeen =
  | { kind: 'string'; string: string; shows: StringSymptom; smells?: boolean } // of burning, or smoke
  /** Plastic of a plug by the eye. */
  | { kind: 'plug'; header: string; looks: 'sound' | 'brown' }
  /** Drop across a terminal, from the wire to its pin, the string lit. */
  | { kind: 'drop'; pin: string; millivolts: number };

/** In order: a short decides before anything, then darkness, then what is dim or flickers. */
const order: readonly (readonly [StringHarm, StringSymptom])[] = [
  ['shorted', 'fuse blows'],
  ['fuse-open', 'dark'],
  ['dark', 'dark'],
  ['dim', 'dim'],
  ['flicker', 'flickers'],
  ['dark-beyond', 'dark beyond one socket'],
  ['dim-beyond', 'dim beyond one socket'],
  ['one-dark', 'one dark'],
];
export const stringSymptom = (harms: Harms, string: string): StringSymptom =>
  order.find(([does]) => suffers(harms, does, string))?.[1] ?? 'lit';
export function stringChance(harms: Harms, string: string): number[] {
  const shown = stringSymptom(harms, string);
  /** A string whose fuse has blown is dark to whoever does not fit another. */
  const share = (id: StringSymptom) => (shown !== 'fuse blows' ? Number(id === shown) : id === 'fuse blows' || id === 'dark' ? 0.5 : 0);
  return stringSymptoms.map((s) => blurred(share(s), stringSymptoms.length));
}

/** All that the look of a string depends on. */
export const stringLooks: readonly StringHarm[] = order.map(([does]) => does);

/** Classes of drop under load, in millivolt: good, watch, suspect, remake now. */
export const drops = ['under 20', '20 to 100', '100 to 250', 'over 250'] as const;
export type Drop = (typeof drops)[number];
/** Millivolts from which a drop is suspect, and from which the terminal is to be remade (common practice, no source). */
export const suspectFrom = 100;
export const remakeFrom = 250;
const goodBelow = 20;
export const dropOf = (millivolts: number): Drop =>
  millivolts < goodBelow ? 'under 20' : millivolts < suspectFrom ? '20 to 100' : millivolts < remakeFrom ? '100 to 250' : 'over 250';

/** What heats a plug. */
export const warm = ['terminal-high', 'joint-high'] as const;
/** Chance that a plug with these pins has browned (from memory). */
export const brownOf = (harms: Harms, pins: readonly string[]): number =>
  pins.some((p) => warm.some((d) => suffers(harms, d, p))) ? 0.6 : 0.05;
/** Chance of a smell of burning at a string and its pins, `near` (from memory). */
export const smellOf = (harms: Harms, near: readonly string[]): number =>
  near.some((n) => (['shorted', 'clip-high', ...warm] as const).some((d) => suffers(harms, d, n))) ? 0.4 : slip;

const good = [0.85, 0.15, 0, 0];
const bad = [0, 0.1, 0.5, 0.4];
const loaded = [0.3, 0.6, 0.1, 0]; // carries what a bad one beside it does not
const noCurrent = [1, 0, 0, 0];
const whole = [0, 0, 0, 1]; // all the volts stand across the break

/** Chances of a drop across the terminal or joint of a pin; `beside` are pins of the same leg in the same connector. */
export function dropChance(harms: Harms, spot: 'terminal' | 'joint', pin: string, string: string, beside: readonly string[]): number[] {
  const at = (p: string, what: 'high' | 'open', where: 'terminal' | 'joint' = spot) => suffers(harms, `${where}-${what}`, p);
  const other = spot === 'terminal' ? 'joint' : 'terminal';
  const off = suffers(harms, 'fuse-open', string);
  const broken = beside.length === 0 ? whole : loaded;
  const starved = beside.some(
    (p) => p !== pin && ['terminal', 'joint'].some((w) => at(p, 'high', w as typeof spot) || at(p, 'open', w as typeof spot)),
  );
  const row = off
    ? noCurrent
    : at(pin, 'open')
      ? broken
      : at(pin, 'open', other)
        ? noCurrent
        : at(pin, 'high')
          ? bad
          : suffers(harms, 'dark', string)
            ? noCurrent
            : starved
              ? loaded
              : good;
  return row.map((share) => (1 - slip) * share + slip / drops.length);
}

/** Heat of a terminal, in watt: P = V·I. 0.25 V at 5 A make 1.25 W, which browns the plastic. */
export const heatWatts = (millivolts: number, amps: number): number => (millivolts / 1000) * amps;
/** What is left for the lamps, in volt: the drops of both legs count. */
export const voltsLeft = (supplyVolts: number, amps: number, ohms: number): number => supplyVolts - amps * ohms;
/** Tungsten at a share of its volts: light with the power 3.4, current 0.55, life −13 (published exponents 3.4–3.5, 0.55, −12 to −16). */
export const rerated = (voltsShare: number): { light: number; current: number; life: number } => ({
  light: voltsShare ** 3.4,
  current: voltsShare ** 0.55,
  life: voltsShare ** -13,
});
/** From a step in brightness back to the step in volts. */
export const voltsFromLight = (lightShare: number): number => lightShare ** (1 / 3.4);
