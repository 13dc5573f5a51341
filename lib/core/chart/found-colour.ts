/** The colour of a wire that was found, as somebody typed it. */
import { joinColour, type StripeOrder } from '../wire/format';
import { parseWire } from '../wire/parse';

export type FoundColour = { ok: true; colour: string } | { ok: false; message: string };

/** One colour or none: what could be several is asked back, because it is kept for years. */
export function readFoundColour(text: string, stripeOrder: StripeOrder): FoundColour {
  const readings = parseWire(text, stripeOrder);
  const colours = [...new Set(readings.map(({ base, stripe }) => joinColour(base, stripe)))];
  const [first] = colours;
  if (first === undefined)
    return { ok: false, message: 'No wire reads like that. Write base and stripe, such as grey/orange, or white for a plain wire.' };
  if (colours.length > 1) return { ok: false, message: `That could be ${colours.join(' or ')}. Write the names in full.` };
  const [reading] = readings;
  if (reading?.stripe !== undefined && !reading.ordered)
    return { ok: false, message: `Which is the stripe? Write the base first, such as ${joinColour(reading.base, reading.stripe)}.` };
  return { ok: true, colour: first };
}
