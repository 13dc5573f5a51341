/** What went into the machine, and what it costs. */
import type { Catalogue, Stock } from '@/lib/core/parts/schema';
import type { PutIn } from '@/lib/widgets/definition';
import type { DerivedLine } from './types';

/** What a write-up reckons with beside its page. */
export interface Terms {
  catalogue: Catalogue;
  used: Stock; // taken out of the club's stock for this page
  currency: string; // that the customer pays in
  rate: number | null; // minor units an hour; null: time is not charged
}

/**
 * One line a part. What was taken from the drawer for this page counts before what somebody noted, and that before what a plan
 * reckoned: the same part is never charged twice.
 */
export function partLines(listed: readonly PutIn[], { catalogue, used, currency }: Terms): DerivedLine[] {
  const names = new Map(catalogue.parts.map((part) => [part.id, part]));
  const taken = Object.entries(used).flatMap(([part, quantity]): PutIn[] =>
    quantity > 0 ? [{ part, name: names.get(part)?.name ?? part, quantity }] : [],
  );
  const keys = [...new Set([...listed, ...taken].map(keyOf))];
  return keys.flatMap((key) => {
    const own = listed.filter((each) => keyOf(each) === key);
    const noted = own.filter(({ planned }) => !planned);
    const counted = [taken.filter((each) => keyOf(each) === key), noted, own].find((some) => some.length > 0) ?? [];
    const [first] = counted;
    const quantity = counted.reduce((sum, each) => sum + each.quantity, 0);
    if (!first || quantity <= 0) return [];
    const { part, name } = first;
    const known = part === undefined ? undefined : names.get(part);
    const price =
      known?.packPence === undefined || catalogue.currency !== currency ? null : Math.round((quantity * known.packPence) / known.pack);
    const text = `${quantity} × ${name}${part === undefined || part === name ? '' : ` (${part})`}`;
    return [{ key: `parts.${key}`, section: 'parts' as const, text, facts: text, price, photo: null }];
  });
}

const keyOf = ({ part, name }: PutIn) => part ?? `named ${name}`;
