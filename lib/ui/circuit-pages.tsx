/** The pages of a machine that name one circuit: what is open, and what was mended with or without a proof. */
export interface CircuitPagesProps {
  number: string;
  pages: readonly { id: string; title: string; state: 'open' | 'mended'; proved: boolean; cause: string }[];
}

const standing = ({ state, proved }: CircuitPagesProps['pages'][number]) =>
  state === 'open' ? 'open' : proved ? 'mended and proved' : 'mended, not proved';

export function CircuitPages({ number, pages }: CircuitPagesProps) {
  return (
    <>
      <h3>Pages about {number}</h3>
      {pages.length === 0 ? (
        <p className="soft">No page of this machine names it yet.</p>
      ) : (
        <ul className="rows">
          {pages.map((p) => (
            <li key={p.id}>
              <a href={`/pages/${p.id}`}>
                <b>{p.title}</b>
                {p.cause && <span className="soft">{p.cause}</span>}
              </a>
              <span>{standing(p)}</span>
            </li>
          ))}
        </ul>
      )}
    </>
  );
}
