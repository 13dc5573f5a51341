/** A wire drawn straight, in both its colours: edge, base, and the stripe down its middle between hairlines. */
import { colourOf } from '@/lib/core/wire/colours';
import { splitColour } from '@/lib/core/wire/format';
import type { Pen } from './pen';

const edgeInk = '#1c1b18';
const dark = new Set(['black', 'brown', 'blue', 'violet']);
const bareMetal = '#a9a59b';
const swatch = (name: string) => colourOf(name)?.srgb ?? bareMetal;

export type Point = readonly [number, number];

/** From one point to the other, `width` mm wide. */
export function drawWire(pen: Pen, from: Point, to: Point, colour: string, width: number): void {
  const { base, stripe } = splitColour(colour);
  const ends = [from, to];
  pen.line(ends, { stroke: edgeInk, width: width + 0.3 });
  pen.line(ends, { stroke: swatch(base), width });
  if (stripe === undefined) return;
  pen.line(ends, { stroke: dark.has(base) && dark.has(stripe) ? '#f8f2e5' : edgeInk, width: width * 0.38 + 0.16 });
  pen.line(ends, { stroke: swatch(stripe), width: width * 0.38 });
}

/** `grey/red` and `grey/red, two wires`; different ones with "and". */
export function wireNames(wires: readonly { colour: string }[]): string {
  const names = [...new Set(wires.map((w) => w.colour))];
  return names.length === 1 && wires.length > 1 ? `${names[0]}, ${wires.length} wires` : names.join(' and ');
}
