/** What a drawing must know about a wire's colours: base, stripe, and which hairline keeps the stripe visible. */

import { colourNames } from '@/lib/core/wire/colours';

/** `grey/orange` → base grey, stripe orange; `black` → base black, stripe null. */
export function splitColour(colour: string): { base: string; stripe: string | null } {
  const [base = '', stripe] = colour.split('/');
  return { base, stripe: stripe || null };
}

const dark = new Set(['black', 'brown', 'blue', 'violet']);

/**
 * The hairline along a stripe. A dark stripe needs a light one: on a dark base always, and black at night on any base, where it
 * would else look like a gap that shows the ground.
 */
export function stripeLine(colour: string): 'var(--stripe-light)' | 'var(--stripe-black)' | 'var(--edge-stripe)' {
  const { base, stripe } = splitColour(colour);
  if (stripe && dark.has(stripe) && dark.has(base)) return 'var(--stripe-light)';
  return stripe === 'black' ? 'var(--stripe-black)' : 'var(--edge-stripe)';
}

const known = new Set(colourNames);
/** A colour's token; an unknown name is drawn as bare metal, and its name in words stands beside it as always. */
export const wireToken = (name: string) => (known.has(name) ? `var(--wire-${name})` : 'var(--wire-metal)');
export const edgeToken = (name: string) => (known.has(name) ? `var(--wire-${name}-edge)` : 'var(--ink)');

/** Colour names of one position, without repeats: `black`, or `grey/red and grey/blue`; `black, two wires` when they are alike. */
export function wiresInWords(wires: readonly { colour: string }[]): string {
  const names = [...new Set(wires.map((w) => w.colour))];
  const counts = ['', '', 'two', 'three', 'four'];
  if (names.length === 1) return wires.length > 1 ? `${names[0]}, ${counts[wires.length] ?? wires.length} wires` : (names[0] ?? '');
  return names.join(' and ');
}
