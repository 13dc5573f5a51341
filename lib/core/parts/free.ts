/** What of the stock a page may reckon with. */
import type { Reserved, Stock } from './schema';

/** Pieces by part: what is on hand and not reserved elsewhere, and what the page took already. A count may find fewer than are reserved. */
export function freeFor(stock: Stock, reserved: Reserved | undefined): Stock {
  if (!reserved) return stock;
  const { elsewhere, used } = reserved;
  const free = (part: string) => Math.max(0, (stock[part] ?? 0) - (elsewhere[part] ?? 0)) + (used[part] ?? 0);
  return Object.fromEntries([...new Set([...Object.keys(stock), ...Object.keys(used)])].map((part) => [part, free(part)]));
}
