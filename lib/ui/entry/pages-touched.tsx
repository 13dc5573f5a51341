/** Before saving: the pages that would mean something else. */
import { count } from './paste-words';
import type { PageTouched } from './use-preview';

export function PagesTouched({ pages }: { pages: readonly PageTouched[] }) {
  if (pages.length === 0) return null;
  return (
    <details className="pages-touched">
      <summary>Saving changes what {count(pages.length, 'page says', 'pages say')}</summary>
      <ul>
        {pages.map(({ id, title }) => (
          <li key={id}>
            <a href={`/pages/${id}`} target="_blank" rel="noreferrer">
              {title}
            </a>
          </li>
        ))}
      </ul>
    </details>
  );
}
