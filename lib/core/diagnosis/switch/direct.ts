/** Direct switches: one input each, to ground. No strobe and no diode, so each line is simply low or not. */
import type { Effect } from '../types';
import type { PathElement } from './network';
import { isMoved, landed, seatOf } from './seat';
import type { Wiring } from './wiring';

/** Direct lines with a set of faults and of closed contacts, worked out when they are asked for. */
export interface DirectLines {
  /** Whether a direct switch, by cell index, reads closed. */
  reads(cell: number): boolean;
  /** Lines of the board that are at ground. With a misplaced plug there may be matrix lines among them. */
  low(): ReadonlySet<string>;
}

const none: ReadonlySet<string> = new Set();

export function directLines(
  wiring: Wiring,
  effects: readonly Effect[],
  cuts: readonly PathElement[],
  closed: ReadonlySet<number>,
): DirectLines {
  if (!mayClose(wiring, effects, closed)) return { reads: () => false, low: () => none };
  let found: Set<string> | null = null;
  const low = () => {
    found ??= lowLines(wiring, effects, cuts, closed);
    return found;
  };
  // A short pulls a line low, but a dead input hears nothing of it.
  const heard = (line: string) => low().has(line) && !cuts.some(({ id, lines }) => /^(input|package) /.test(id) && lines.includes(line));
  return { low, reads: (index) => heard(wiring.directs[wiring.cells[index]?.row ?? -1] ?? '') };
}

/** False, quickly, when no direct contact is closed and nothing pulls a direct line low. */
function mayClose({ directCells, directs, cellOf, network }: Wiring, effects: readonly Effect[], closed: ReadonlySet<number>): boolean {
  for (const index of directCells) if (closed.has(index)) return true;
  if (isMoved(effects)) return true;
  return effects.some((effect) => {
    if (effect.does === 'to-ground' || effect.does === 'input-reads') return directs.includes(effect.line);
    if (effect.does === 'contact-closed') return directCells.includes(cellOf.get(effect.switch) ?? -1);
    return effect.does === 'cut' && effect.element.startsWith('emitters ') && network.elements.has(effect.element);
  });
}

function lowLines(wiring: Wiring, effects: readonly Effect[], cuts: readonly PathElement[], closed: ReadonlySet<number>): Set<string> {
  const moved = isMoved(effects);
  const joined: string[] = []; // lines that closed switches join to the ground of the harness
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
    if (whole && seat && (bridged || dark || closed.has(index))) joined.push(seat.net);
  }
  const low = new Set(moved ? grounded(wiring, effects, joined) : joined);
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

/**
 * With misplaced plugs the ground of the harness sits wherever its wires have landed; over a closed switch it may find ground again. What
 * joins ground to a supply pulls nothing low.
 */
function grounded({ network: { chart } }: Wiring, effects: readonly Effect[], joined: readonly string[]): string[] {
  const is = (kind: 'ground' | 'supply') => (net: string) => chart.nets.get(net)?.kind === kind;
  const isGround = is('ground');
  const taps = [...chart.taps].flatMap(([net, list]) => (isGround(net) ? list : []));
  const landings = taps.flatMap((tap) => {
    const at = landed(chart, effects, tap);
    return (at && chart.pins.get(`${at.header}-${at.position}`)?.net) ?? [];
  });
  const all = [...joined, ...landings];
  return (taps.length === 0 || all.some(isGround)) && !all.some(is('supply')) ? all : [];
}
