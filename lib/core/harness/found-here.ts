/** What this machine has otherwise than its manual, as far as somebody meets it who works on one connector. */
import { netTitle } from '../chart/names';
import { positionLabel } from '../chart/positions';
import type { Deviation, Header } from '../chart/schema';
import type { Chart, Tap } from '../chart/types';
import { tapsOf } from '../lookup/runs';

export interface FoundHere {
  found: Deviation;
  positions: number[]; // of the header, in order
  where: string; // "A3J4-7", "44 Right sling, row 4 at 5", "Row 4 at 5 and 6"
}

/** Those that stand: at a pin of the header, on a line that it carries, and at a switch that hangs on such a line. */
export function foundHere(chart: Chart, header: Header): FoundHere[] {
  return chart.asFound.flatMap((found): FoundHere[] => {
    const { pin, switch: number, net } = found.place;
    if (pin !== undefined) {
      const at = Array.from({ length: header.positions }, (_, i) => i + 1).filter((position) => `${header.id}-${position}` === pin);
      return at.length > 0 ? [{ found, positions: at, where: pin }] : [];
    }
    const circuit = number === undefined ? undefined : chart.circuit.get(number);
    const nets = net !== undefined ? [net] : (circuit?.nets ?? []);
    const lines = nets.flatMap((line) => {
      const taps: readonly Tap[] = circuit ? tapsOf(chart, circuit, line) : (chart.taps.get(line) ?? []);
      const positions = taps.flatMap((tap) => (tap.header === header.id ? [tap.position] : []));
      return positions.length > 0 ? [{ line, positions }] : [];
    });
    if (lines.length === 0) return [];
    const at = lines.map(({ line, positions }) => `${netTitle(chart, line)} at ${positions.map((p) => labelOf(header, p)).join(' and ')}`);
    const words = circuit ? [`${circuit.number} ${circuit.name}`, ...at.map(lowered)] : at;
    return [{ found, positions: lines.flatMap(({ positions }) => positions).sort((a, b) => a - b), where: words.join(', ') }];
  });
}

const labelOf = (header: Header, position: number) => positionLabel(header, position) || String(position);
const lowered = (words: string) => words.charAt(0).toLowerCase() + words.slice(1);
