/** Designators and the words for lines. */
import type { Net } from './schema';
import type { Chart } from './types';

/** `A3J4` and 7 → `A3J4-7`. */
export const pinOf = (header: string, position: number): string => `${header}-${position}`;

/** `A3J4-7` → `A3J4` and 7, `X1-4` → `X1` and 4; null when it is not a pin. */
export function splitPin(pin: string): { header: string; position: number } | null {
  const parts = /^((?:A\d{1,2}J|X)\d{1,2})-(\d{1,2})$/.exec(pin);
  return parts?.[1] && parts[2] ? { header: parts[1], position: Number(parts[2]) } : null;
}

/** `A3J4` → `A3`. */
export const boardOf = (header: string): string => header.replace(/J.*$/, '');

const kindWords: Record<Net['kind'], string> = {
  'switch-column': 'Column',
  'switch-row': 'Row',
  direct: 'Direct',
  'lamp-column': 'Lamp column',
  'lamp-row': 'Lamp row',
  load: 'Load',
  supply: 'Supply',
  illumination: 'Illumination',
  ground: 'Ground',
  other: 'Line',
};

/** A line as a heading: "Column 4", "Coil supply", "Load 5"; the id itself when the chart has no such line. */
export function netTitle(chart: Pick<Chart, 'nets'>, id: string): string {
  const net = chart.nets.get(id);
  if (!net) return id;
  const matrix = /-(column|row)$/.test(net.kind) && net.number !== undefined;
  if (net.name && !matrix) return net.name;
  const tail = id.includes('.') ? id.slice(id.indexOf('.') + 1) : '';
  return `${kindWords[net.kind]} ${net.number ?? tail}`.trim();
}
