/** Who writes: name, address and logo of the club or business, and how it charges. */
import * as z from 'zod';
import { isCurrency } from '@/lib/core/money';

const hash = z.string().regex(/^[0-9a-f]{64}$/);
const side = z.number().int().positive();
/** A picture by the hash of its bytes, with its size in pixels. */
export const logo = z.object({ picture: hash, width: side, height: side });

/** What stands at the head of a write-up. */
export const head = z.object({ name: z.string(), address: z.array(z.string()), logo: logo.nullable() });

export const letterhead = head.extend({
  currency: z.string().refine(isCurrency),
  rate: z.number().int().min(0).nullable(), // minor units an hour; null: time is not charged
});
export type Letterhead = z.infer<typeof letterhead>;
