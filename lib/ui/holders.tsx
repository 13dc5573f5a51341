/** Who has pieces of a part reserved: each job with how many, leading to its parts. */
import type { StockHolder } from '@/lib/core/parts/schema';

export function Holders({ holders }: { holders: readonly StockHolder[] }) {
  return holders.map(({ page, title, pieces }, at) => (
    <span key={page}>
      {at > 0 && '; '}
      {pieces} for <a href={`/pages/${page}/parts`}>{title}</a>
    </span>
  ));
}
