/** How many pages would mean something else, and which. */
import type { Preview } from '@/lib/search/preview';

const most = 4; // facts told of a page
const told = (labels: string[]) => `${labels.slice(0, most).join(', ')}${labels.length > most ? ` and ${labels.length - most} more` : ''}`;

export function PagesThatChange({ preview: { pages, changed } }: { preview: Preview }) {
  if (pages === 0) return <p>No page is computed from this chart yet.</p>;
  if (changed.length === 0) return <p>{pages === 1 ? 'The one page' : `All ${pages} pages`} computed from it would say the same.</p>;
  return (
    <>
      <p>
        {changed.length} of {pages} {pages === 1 ? 'page' : 'pages'} would mean something else.{' '}
        {changed.length === 1 ? 'It is' : 'They are'} computed again beside the work.
      </p>
      <ul className="rows">
        {changed.map((p) => (
          <li key={p.id}>
            <a href={`/pages/${p.id}`}>
              <b>{p.title}</b>
              <span className="soft">
                {[p.loses.length > 0 ? `no longer: ${told(p.loses)}` : '', p.gains.length > 0 ? `new: ${told(p.gains)}` : '']
                  .filter(Boolean)
                  .join('; ')}
              </span>
            </a>
          </li>
        ))}
      </ul>
    </>
  );
}
