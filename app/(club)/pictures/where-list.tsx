import type { whereShown } from './where';

/** Each place in words, with the way there; `gone`: of a picture that was removed. */
export function WhereList({
  where: { places, removedPages, sentCopies },
  gone,
}: {
  where: Awaited<ReturnType<typeof whereShown>>;
  gone?: boolean;
}) {
  return (
    <ul className="rows">
      {places.map(({ href, title, shown }) => (
        <li key={href}>
          <a href={href}>
            <b>{title}</b>
          </a>
          {!gone && <span className="soft">{shown ? 'shows it' : 'shows it in its history only'}</span>}
        </li>
      ))}
      {sentCopies > 0 && (
        <li>
          <span className="soft">{sentCopies === 1 ? 'A write-up that was sent' : `${sentCopies} write-ups that were sent`}</span>
        </li>
      )}
      {removedPages > 0 && (
        <li>
          <span className="soft">{removedPages === 1 ? 'A page that was removed' : `${removedPages} pages that were removed`}</span>
        </li>
      )}
    </ul>
  );
}
