/** Where a wire really sits: at its own pin, at another when wires have changed places or its plug is misplaced, or nowhere. */
import { pathsOf } from '../../chart/chain';
import { connectorOf, isInline, splitInline } from '../../chart/inline';
import { type Placing, shifted, turned } from '../../chart/plug-fit';
import type { Chart, Tap } from '../../chart/types';
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

/**
 * The seat of a switch's wire of one line: through its in-line connectors towards the board, then the exchange within the housing, then where
 * the housing is. Null: it meets nothing.
 */
export function seatOf(wiring: Wiring, effects: readonly Effect[], own: string, number: string): Seat | null {
  const { chart } = wiring.network;
  const taps = chart.taps.get(own) ?? [];
  const charted = taps.find((t) => t.behind.includes(number)) ?? taps.find((t) => t.behind.length === 0) ?? taps[0];
  if (!charted) return { net: own, pin: '' };
  const way = effects.some(partsInLine) ? towardsBoard(chart, effects, charted, number) : { tap: charted };
  if (!way || !('tap' in way)) return way;
  const { tap } = way;
  let { position } = tap;
  for (const effect of effects) {
    if (effect.does !== 'exchanged' || effect.header !== tap.header || !effect.lines.includes(tap.net)) continue;
    const other = effect.lines[0] === tap.net ? effect.lines[1] : effect.lines[0];
    position = (chart.taps.get(other) ?? []).find((t) => t.header === tap.header)?.position ?? position;
  }
  const at = landed(chart, effects, { header: tap.header, position });
  const pin = at && chart.pins.get(`${at.header}-${at.position}`);
  return pin ? { net: pin.net, pin: pin.pin } : null;
}

const partsInLine = (effect: Effect): boolean =>
  effect.does === 'plugs-exchanged'
    ? isInline(effect.headers[0])
    : moving.has(effect.does) && 'header' in effect && isInline(effect.header);

/** The positions of in-line connectors between a tap and what its chains name, from the board outwards: by `tap number` and `tap X1-4`. */
const ways = new WeakMap<Chart, ReadonlyMap<string, { tap: Tap; through: readonly string[] }>>();
function waysOf(chart: Chart) {
  let known = ways.get(chart);
  if (!known) {
    const all = new Map<string, { tap: Tap; through: readonly string[] }>();
    for (const { tap: pin, steps } of chart.machine.chains) {
      const tap = chart.pins.get(pin);
      if (!tap) continue;
      for (const [number, path] of pathsOf(steps)) {
        const through = path.filter((joint) => splitInline(joint));
        if (!all.has(`${pin} ${number}`)) all.set(`${pin} ${number}`, { tap, through });
        for (const [k, joint] of through.entries()) if (!all.has(joint)) all.set(joint, { tap, through: through.slice(0, k) });
      }
    }
    known = all;
    ways.set(chart, known);
  }
  return known;
}

/**
 * Which tap a wire comes to, when halves of in-line connectors are not where they belong. Null: it meets nothing. A seat where the chart knows
 * the line of the near half, but not its way to the board.
 */
function towardsBoard(chart: Chart, effects: readonly Effect[], tap: Tap, number: string): { tap: Tap } | Seat | null {
  let way = waysOf(chart).get(`${tap.pin} ${number}`) ?? { tap, through: [] };
  // Each turn is one connector nearer to the board.
  for (let pin = way.through.at(-1); pin !== undefined; pin = way.through.at(-1)) {
    const at = splitInline(pin);
    const position = exchangedAt(chart, effects, pin) ?? at?.position ?? 0;
    const there = landed(chart, effects, { header: at?.connector ?? '', position });
    const near = there && `${there.header}-${there.position}`;
    if (near === pin) {
      way = { tap: way.tap, through: way.through.slice(0, -1) };
      continue;
    }
    const carried = near ? chart.through.get(near) : undefined;
    if (!near || !carried) return null;
    const on = waysOf(chart).get(near);
    if (!on) return { net: carried.net, pin: '' };
    way = on;
  }
  return { tap: way.tap };
}

/** Where two wires of an in-line connector have changed places: the position of the other. */
function exchangedAt(chart: Chart, effects: readonly Effect[], pin: string): number | undefined {
  const through = chart.through.get(pin);
  for (const effect of effects) {
    if (effect.does !== 'exchanged' || !through || effect.header !== through.header || !effect.lines.includes(through.net)) continue;
    const other = effect.lines[0] === through.net ? effect.lines[1] : effect.lines[0];
    return chart.inline.get(through.header)?.pins.find((p) => p.net === other)?.position;
  }
  return undefined;
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
    const header = connectorOf(chart, effect.header);
    if (!header) placing = () => null;
    else placing = effect.does === 'turned' ? turned(header) : shifted(header, effect.by);
    placings.set(effect, placing);
  }
  return placing;
}
