/** Where a wire really sits: at its own pin, at another when wires have changed places or the plug sits one over, or nowhere. */
import type { Effect } from '../types';
import type { Wiring } from './wiring';

export interface Seat {
  net: string; // line of the board that the wire meets
  pin: string; // empty when the chart gives the line no pin
}

/** True when some wires are not where they belong. */
export const isMoved = (effects: readonly Effect[]): boolean => effects.some((e) => e.does === 'exchanged' || e.does === 'shifted');

/** The seat of a switch's wire of one line: first the exchange within the housing, then the shift of the whole housing. Null: it meets nothing. */
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
  for (const effect of effects) if (effect.does === 'shifted' && effect.header === tap.header) position += effect.by;
  const pin = chart.pins.get(`${tap.header}-${position}`);
  return pin ? { net: pin.net, pin: pin.pin } : null;
}
