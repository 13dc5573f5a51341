/** A page's past as a list, newest first: who worked on it, when, and what came of it. */
import type { Stretch } from '@/lib/store/types';
import { clocks, dayOf, momentOf, whoOf } from './history-words';

export interface Row {
  stretch: Stretch;
  summary: string;
}

export const atHref = (page: string, number: number) => `/pages/${page}/history?at=${number}`;

/** `rows` newest first. */
export function HistoryList({ page, rows }: { page: string; rows: readonly Row[] }) {
  const days: { day: string; rows: Row[] }[] = [];
  for (const row of rows) {
    const day = dayOf(row.stretch.at);
    if (days.at(-1)?.day === day) days.at(-1)?.rows.push(row);
    else days.push({ day, rows: [row] });
  }
  return days.map(({ day, rows: ofDay }) => (
    <section key={day} className="history-day">
      <h2>{day}</h2>
      <ol className="stretches">
        {ofDay.map(({ stretch, summary }) => (
          <li key={stretch.number}>
            <a href={atHref(page, stretch.number)}>
              <time dateTime={stretch.at} className="when">
                {clocks(stretch)}
              </time>
              <span className="stretch-who">
                {stretch.name && <b className="version-name">{stretch.name}</b>}
                <span>{whoOf(stretch)}</span>
              </span>
              <span className="soft">{summary}</span>
            </a>
          </li>
        ))}
      </ol>
    </section>
  ));
}

/** In the margin: points with a name, and who has written here. `stretches` newest first. */
export function HistoryMargin({ page, stretches, at }: { page: string; stretches: readonly Stretch[]; at?: number }) {
  const named = stretches.filter(({ name }) => name !== null);
  const people = [...new Set(stretches.flatMap(({ members }) => members.map(({ name }) => name)))];
  return (
    <>
      <h4>Named versions</h4>
      {named.length === 0 ? (
        <p className="soft">None yet. A name keeps a point easy to find.</p>
      ) : (
        <ul>
          {named.map((stretch) => (
            <li key={stretch.number}>
              <a href={atHref(page, stretch.number)} aria-current={stretch.number === at ? 'true' : undefined}>
                {stretch.name}
              </a>
              <span className="soft"> {momentOf(stretch)}</span>
            </li>
          ))}
        </ul>
      )}
      <h4>Who has written here</h4>
      <ul>
        {people.map((name) => (
          <li key={name}>{name}</li>
        ))}
      </ul>
    </>
  );
}

/** The drawer's handle on a phone. */
export function historyBar(stretches: readonly Stretch[]): string {
  const named = stretches.filter(({ name }) => name !== null).length;
  return `${stretches.length} ${stretches.length === 1 ? 'stretch' : 'stretches'}${named > 0 ? `, ${named} named` : ''}`;
}
