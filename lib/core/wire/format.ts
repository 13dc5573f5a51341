/** Wire colours written out. */
import { colourNames, colourOf } from './colours';

/** `grey/orange`, `GRY-ORN`, `8-3`, `OGGY`, `grey with an orange stripe`. */
export const notations = ['names', 'short', 'digits', 'letters', 'words'] as const;
export type Notation = (typeof notations)[number];

/** How a chart prints a pair: base or stripe first. Spoken forms and IEC 60757 letters do not depend on it. */
export type StripeOrder = 'base-stripe' | 'stripe-base';

/** Writes a wire in a notation; null where that notation has no code for one of its colours, or (digits) for a wire without a stripe. */
export function formatWire(
  base: string,
  stripe: string | undefined,
  notation: Notation,
  stripeOrder: StripeOrder = 'base-stripe',
): string | null {
  const all = stripe === undefined ? [base] : stripeOrder === 'base-stripe' ? [base, stripe] : [stripe, base];
  const known = all.flatMap((name) => colourOf(name) ?? []);
  if (known.length < all.length) return null;
  switch (notation) {
    case 'names':
      return all.join('/');
    case 'words':
      return stripe === undefined ? `${base} wire` : `${base} with ${/^[aeiou]/.test(stripe) ? 'an' : 'a'} ${stripe} stripe`;
    case 'short':
      return known.map((c) => (c.short[0] ?? c.name).toUpperCase()).join('-');
    case 'digits':
      return known.length === 2 && known.every((c) => c.digit !== null) ? known.map((c) => c.digit).join('-') : null;
    case 'letters':
      return known.every((c) => c.iec60757 !== null) ? lettersInOrder(known.map((c) => c.name)) : null;
  }
}

/** IEC 60757, 2021, 5.1: codes joined in the order of its table; green with yellow only as GNYE. */
function lettersInOrder(names: string[]): string {
  const codes = [...names].sort((a, b) => colourNames.indexOf(a) - colourNames.indexOf(b)).map((name) => colourOf(name)?.iec60757 ?? '');
  const joined = codes.join('');
  return joined === 'YEGN' ? 'GNYE' : joined;
}

/** `grey/orange` as its colours. */
export function splitColour(colour: string): { base: string; stripe?: string } {
  const [base = '', stripe] = colour.split('/');
  return stripe ? { base, stripe } : { base };
}
export const joinColour = (base: string, stripe?: string): string => (stripe ? `${base}/${stripe}` : base);
