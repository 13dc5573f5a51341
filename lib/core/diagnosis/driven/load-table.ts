/**
 * What a driven load does and what a meter reads on it, from what is wrong with its circuit: supply → fuse → chain → supply lug → winding,
 * flyback diode across it → return lug → return wire → driver → ground. Fault model table, from common practice; the shares are from memory.
 */
import { type Harm, suffers } from './scenes';

/** What can be done to a load. */
export type LoadHarm =
  | 'feed-cut' // before the fuse
  | 'fuse-blown'
  | 'holder-cut'
  | 'supply-cut' // between fuse and supply lug
  | 'supply-weak' // high resistance there
  | 'supply-grounded'
  | 'winding-open'
  | 'turns' // winding partly shorted
  | 'shorted' // lamp of a flasher, its base or socket
  | 'power-open' // strong winding or its end-of-stroke contact: it only holds
  | 'never-opens' // end-of-stroke contact stays closed: the strong winding stays on
  | 'flyback-shorted'
  | 'flyback-reversed'
  | 'flyback-open'
  | 'return-cut'
  | 'return-grounded'
  | 'driver-cut'
  | 'driver-on'
  | 'drive-cut' // the pre-driver or the logic before it
  | 'drive-on'
  | 'draws' // it blew the fuse, whatever is wrong with it
  | 'mark'; // something that can be seen

export const symptoms = ['fires', 'dead', 'weak', 'always on', 'fuse blows', 'driver dies again'] as const;
export type Symptom = (typeof symptoms)[number];
/** What a load does. Readings and meter tests are results. */
export interface LoadSeen {
  load: string; // number
  shows: Symptom;
  smells?: boolean; // of burning, or smoke
}
export const readings = ['supply', 'low', 'none'] as const;
export type Reading = (typeof readings)[number];

export interface LoadCircuit {
  fed: boolean; // supply reaches the supply lug
  weak: boolean;
  winding: boolean; // conducts
  bypass: boolean; // something conducts freely from supply to return: flyback diode, shorted lamp
  whole: boolean; // return lug to driver
  grounded: boolean;
  sinking: boolean; // driver conducts though not commanded
  obeys: boolean; // driver conducts on command
  does(harm: LoadHarm): boolean;
}

export function circuitOf(harms: readonly Harm<LoadHarm>[], load: string): LoadCircuit {
  const does = (what: LoadHarm) => suffers(harms, what, load);
  const open = does('driver-cut');
  return {
    fed: !(does('feed-cut') || does('fuse-blown') || does('holder-cut') || does('supply-cut')),
    weak: does('supply-weak'),
    winding: !does('winding-open'),
    bypass: does('flyback-shorted') || does('flyback-reversed') || does('shorted'),
    whole: !does('return-cut'),
    grounded: does('return-grounded'),
    sinking: !open && (does('driver-on') || does('drive-on')),
    obeys: !open && !(does('drive-cut') && !does('driver-on')),
    does,
  };
}

/** Volts to ground with the machine on and the load not commanded: `supply` V+, `low` 0–0.3 V through something that conducts, `none` nothing. */
export function readingsOf(c: LoadCircuit): { a: Reading; b: Reading; d: Reading } {
  const a: Reading = c.fed ? 'supply' : 'none';
  const pulledDown = c.grounded || (c.whole && c.sinking);
  const b: Reading = !c.fed ? 'none' : pulledDown ? 'low' : c.winding || c.bypass ? 'supply' : 'none';
  return { a, b, d: c.whole ? b : c.sinking ? 'low' : 'none' };
}

/** True when the load is on without a command. */
export const onAlone = (c: LoadCircuit): boolean => c.fed && c.winding && !c.bypass && (c.grounded || (c.whole && c.sinking));
/** True when current can pass the load on command, or from a test resistor at the driver. */
export const passes = (c: LoadCircuit): boolean => c.fed && (c.winding || c.bypass) && c.whole;

/** Shares of what people see. More than one where the same fault shows in different ways. */
export function symptomsOf(c: LoadCircuit): Partial<Record<Symptom, number>> {
  const pulled = c.grounded || (c.whole && c.sinking);
  if (!c.fed) return c.does('fuse-blown') && burns(c) ? { dead: 0.5, 'fuse blows': 0.5 } : { dead: 1 };
  if (c.bypass && pulled) return { 'fuse blows': 1 };
  if (onAlone(c)) return c.does('turns') ? { 'always on': 0.5, 'fuse blows': 0.5 } : { 'always on': 1 };
  if (!passes(c) || !c.obeys) return { dead: 1 };
  if (c.bypass) return { 'fuse blows': 0.45, 'driver dies again': 0.35, dead: 0.2 };
  if (c.does('turns')) return { weak: 0.5, 'fuse blows': 0.2, 'driver dies again': 0.2, fires: 0.1 };
  if (c.does('power-open')) return { weak: 1 };
  if (c.weak) return { weak: 1 };
  if (c.does('never-opens')) return { fires: 0.5, 'fuse blows': 0.3, 'driver dies again': 0.2 };
  if (c.does('flyback-open')) return { fires: 0.5, 'driver dies again': 0.5 };
  return { fires: 1 };
}

/** Shares of a smell of burning, or smoke, from the load or its driver (from memory). */
export const smellOf = (c: LoadCircuit): number =>
  onAlone(c) ? 0.6 : c.does('turns') ? 0.5 : c.does('never-opens') ? 0.4 : c.bypass ? 0.3 : 0.02;

/** All that `burns` depends on. */
export const burning: readonly LoadHarm[] = [
  'return-grounded',
  'driver-on',
  'drive-on',
  'driver-cut',
  'flyback-shorted',
  'flyback-reversed',
  'shorted',
  'turns',
  'never-opens',
  'draws',
];
/** True when the load itself draws more than its fuse stands. */
export const burns = (c: LoadCircuit): boolean =>
  c.grounded || c.sinking || c.bypass || c.does('turns') || c.does('never-opens') || c.does('draws');

export type CoilOhms = 'short' | 'good' | 'open';
/** Across the winding, one lead and the diode lifted. */
export const coilOhmsOf = (c: LoadCircuit): CoilOhms =>
  c.does('shorted') ? 'short' : !c.winding ? 'open' : c.does('turns') ? 'short' : 'good';

export type DiodeLook = 'good' | 'short' | 'open' | 'reversed';
export const diodeOf = (c: LoadCircuit): DiodeLook =>
  c.does('flyback-shorted') ? 'short' : c.does('flyback-reversed') ? 'reversed' : c.does('flyback-open') ? 'open' : 'good';

export type Junctions = 'short' | 'open' | 'good';
/** Of the driver itself: a pre-driver that holds it on leaves its junctions good. */
export const junctionsOf = (c: LoadCircuit): Junctions => (c.does('driver-cut') ? 'open' : c.does('driver-on') ? 'short' : 'good');
