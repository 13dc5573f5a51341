/** Direct switches: one input each, to ground. No strobe and no diode, so each line is simply low or not. */
import type { Effect } from '../types';
import type { PathElement } from './network';
import { isMoved, seatOf } from './seat';
import type { Wiring } from './wiring';

/** Tells for a direct switch, by cell index, whether its number reads closed. */
export function directLines(
  wiring: Wiring,
  effects: readonly Effect[],
  cuts: readonly PathElement[],
  closed: ReadonlySet<number>,
): (cell: number) => boolean {
  if (!mayClose(wiring, effects, closed)) return () => false;
  let low: Set<string> | null = null;
  return (index) => {
    low ??= lowLines(wiring, effects, cuts, closed);
    return low.has(wiring.directs[wiring.cells[index]?.row ?? -1] ?? '');
  };
}

/** False, quickly, when no direct contact is closed and nothing pulls a direct line low. */
function mayClose({ directCells, directs, cellOf, network }: Wiring, effects: readonly Effect[], closed: ReadonlySet<number>): boolean {
  for (const index of directCells) if (closed.has(index)) return true;
  return effects.some((effect) => {
    if (effect.does === 'to-ground' || effect.does === 'input-reads') return directs.includes(effect.line);
    if (effect.does === 'contact-closed') return directCells.includes(cellOf.get(effect.switch) ?? -1);
    return effect.does === 'cut' && effect.element.startsWith('emitters ') && network.elements.has(effect.element);
  });
}

function lowLines(wiring: Wiring, effects: readonly Effect[], cuts: readonly PathElement[], closed: ReadonlySet<number>): Set<string> {
  const low = new Set<string>();
  const moved = isMoved(effects);
  if (moved && !isGrounded(wiring, effects)) return low;
  for (const index of wiring.directCells) {
    const cell = wiring.cells[index];
    const own = wiring.directs[cell?.row ?? -1];
    if (!cell || own === undefined) continue;
    const { number } = cell;
    const bridged = effects.some((e) => e.does === 'contact-closed' && e.switch === number);
    const dark = cuts.some((cut) => wiring.litOpen(cut).includes(index));
    const broken = cuts.filter((cut) => cut.serves.has(number) && !(dark && cut.id.startsWith('emitters ')));
    const whole = broken.every((cut) => bridged && cut.id === `contact ${number}`);
    const seat = moved ? seatOf(wiring, effects, own, number) : { net: own };
    if (whole && seat && (bridged || dark || closed.has(index))) low.add(seat.net);
  }
  for (const effect of effects) if (effect.does === 'to-ground') low.add(effect.line);
  for (const effect of effects)
    if (effect.does === 'join' && effect.lines.some((line) => low.has(line))) for (const line of effect.lines) low.add(line);
  for (const effect of effects) {
    if (effect.does === 'to-supply') low.delete(effect.line);
    else if (effect.does === 'input-reads') {
      if (effect.reads === 'closed') low.add(effect.line);
      else low.delete(effect.line);
    }
  }
  return low;
}

/** False when the only ground of the harness has been moved off its pin with its plug. */
function isGrounded({ network: { chart } }: Wiring, effects: readonly Effect[]): boolean {
  const isGround = (net: string | undefined) => net !== undefined && chart.nets.get(net)?.kind === 'ground';
  const taps = [...chart.taps].flatMap(([net, list]) => (isGround(net) ? list : []));
  const landed = (header: string, position: number) =>
    effects.reduce((at, e) => (e.does === 'shifted' && e.header === header ? at + e.by : at), position);
  return taps.length === 0 || taps.some((tap) => isGround(chart.pins.get(`${tap.header}-${landed(tap.header, tap.position)}`)?.net));
}
