/** Where a wire really sits: at its own pin, at another when wires have changed places or its plug is misplaced, or nowhere. */
import { type Placing, shifted, turned } from '../../chart/plug-fit';
import type { Chart } from '../../chart/types';
import type { Effect } from '../types';
import type { Wiring } from './wiring';

export interface Seat {
  net: string; // line of the board that the wire meets
  pin: string; // empty when the chart gives the line no pin
}
interface At {
  header: string;
  position: number;
}

const moving = new Set<Effect['does']>(['exchanged', 'shifted', 'turned', 'elsewhere', 'plugs-exchanged']);

/** True when some wires are not where they belong. */
export const isMoved = (effects: readonly Effect[]): boolean => effects.some((effect) => moving.has(effect.does));

/** The seat of a switch's wire of one line: first the exchange within the housing, then where the housing is. Null: it meets nothing. */
export function seatOf(wiring: Wiring, effects: readonly Effect[], own: string, number: string): Seat | null {
  const { chart } = wiring.network;
  const taps = chart.taps.get(own) ?? [];
  const tap = taps.find((t) => t.behind.includes(number)) ?? taps.find((t) => t.behind.length === 0) ?? taps[0];
  if (!tap) return { net: own, pin: '' };
  let { position } = tap;
  for (const effect of effects) {
    if (effect.does !== 'exchanged' || effect.header !== tap.header || !effect.lines.includes(own)) continue;
    const other = effect.lines[0] === own ? effect.lines[1] : effect.lines[0];
    position = (chart.taps.get(other) ?? []).find((t) => t.header === tap.header)?.position ?? position;
  }
  const at = landed(chart, effects, { header: tap.header, position });
  const pin = at && chart.pins.get(`${at.header}-${at.position}`);
  return pin ? { net: pin.net, pin: pin.pin } : null;
}

/** The header position that a housing position comes to sit on; null when it is on none. */
export function landed(chart: Chart, effects: readonly Effect[], { header, position }: At): At | null {
  const at = { header, position };
  for (const effect of effects) {
    if (effect.does === 'plugs-exchanged') {
      const [a, b] = effect.headers;
      if (a === header || b === header) at.header = a === header ? b : a;
    } else if (effect.does === 'elsewhere') {
      if (effect.on === header) return null;
      if (effect.header === header) at.header = effect.on;
    } else if ((effect.does === 'shifted' || effect.does === 'turned') && effect.header === header) {
      const there = placingOf(chart, effect)(at.position);
      if (there === null) return null;
      at.position = there;
    }
  }
  return at;
}

type Misplacing = Extract<Effect, { does: 'shifted' | 'turned' }>;
const placings = new WeakMap<Effect, Placing>();

/** Worked out once for each fault: the solver asks for every wire. */
function placingOf(chart: Chart, effect: Misplacing): Placing {
  let placing = placings.get(effect);
  if (!placing) {
    const header = chart.headers.get(effect.header);
    if (!header) placing = () => null;
    else placing = effect.does === 'turned' ? turned(header) : shifted(header, effect.by);
    placings.set(effect, placing);
  }
  return placing;
}
