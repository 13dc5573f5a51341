/** What the results have in common, as ways to see fewer of them. */
import { type AskedSearch, askedAs, narrowed } from '@/lib/search/address';
import { type Facet, facets } from '@/lib/search/facet';
import type { SearchResponse } from '@/lib/search/types';

const titles: Record<Facet, string> = {
  machine: 'Machine',
  design: 'Board design',
  circuitKind: 'Circuit',
  cause: 'Cause',
  year: 'Year',
  by: 'Who',
  state: 'State',
};
const mostShown = 8;

export function Narrowing({ found, asked }: { found: SearchResponse; asked: AskedSearch }) {
  const chosen = facets.filter((facet) => asked.narrow[facet]);
  const open = facets.filter((facet) => !asked.narrow[facet] && found.facets[facet].length > 1);
  if (chosen.length + open.length === 0) return null;
  const nameOf = (facet: Facet) => found.facets[facet].find((c) => c.value === asked.narrow[facet])?.name ?? asked.narrow[facet];
  return (
    <section className="narrowing" aria-label="Narrow">
      {chosen.length > 0 && (
        <ul>
          <li className="soft">Only</li>
          {chosen.map((facet) => (
            <li key={facet}>
              {nameOf(facet)}
              <a href={`/search?${askedAs(narrowed(asked, facet, null))}`} aria-label={`No longer only ${nameOf(facet)}`} title="All again">
                ×
              </a>
            </li>
          ))}
        </ul>
      )}
      {open.length > 0 && (
        <details>
          <summary>Show only some of them</summary>
          <dl>
            {open.map((facet) => (
              <div key={facet}>
                <dt>{titles[facet]}</dt>
                <dd>
                  <ul>
                    {found.facets[facet].slice(0, mostShown).map(({ value, name, count }) => (
                      <li key={value}>
                        <a href={`/search?${askedAs(narrowed(asked, facet, value))}`}>{name}</a> <span className="soft">{count}</span>
                      </li>
                    ))}
                  </ul>
                </dd>
              </div>
            ))}
          </dl>
        </details>
      )}
    </section>
  );
}

/** "Of 9 like this: 5 connector contact, 3 switch, 1 diode." */
export function LikeThis({ found, asked }: { found: SearchResponse; asked: AskedSearch }) {
  const { count, causes } = found.like;
  if (causes.length === 0 || count < 2) return null;
  const told = causes.reduce((sum, cause) => sum + cause.count, 0);
  return (
    <p className="like-this">
      Of {count} like this:{' '}
      {causes.slice(0, 6).map((cause, n) => (
        <span key={cause.value}>
          {n > 0 && ', '}
          <a href={`/search?${askedAs(narrowed(asked, 'cause', cause.value))}`}>
            {cause.count} {cause.name.toLowerCase()}
          </a>
        </span>
      ))}
      {told < count && <span className="soft">, {count - told} without a cause yet</span>}.
    </p>
  );
}
