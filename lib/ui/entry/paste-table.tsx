'use client';
/** What was pasted as a table: its guessed headings, which can be corrected, and each cell marked as understood or not. */
import { type Meaning, marksOf, meanings, type Table, type Understanding } from '@/lib/core/chart/entry';
import { count, meaningWord } from './paste-words';

const mostRows = 9;
const choosable = meanings.filter((m) => m !== 'rowHead' && m !== 'cells');

export function PasteTable({
  table,
  read,
  onColumn,
}: {
  table: Table;
  read: Understanding;
  onColumn(column: number, meaning: Meaning): void;
}) {
  const marks = marksOf(table, read);
  const width = Math.max(0, ...table.rows.slice(0, 200).map((row) => row.length));
  const matrix = read.kind.endsWith('-matrix');
  // The rows that need a look are shown first of all.
  const odd = new Set([...read.not, ...read.asks.map((ask) => ask.at)].map(({ row }) => row - 1));
  const shown = new Set(table.rows.slice(0, mostRows).map((_, i) => i));
  for (const row of [...odd].sort((a, b) => a - b).slice(0, mostRows)) if (row >= 0) shown.add(row);
  const rows = [...shown].filter((i) => i < table.rows.length).sort((a, b) => a - b);
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a part that scrolls sideways must be reached by keyboard
    <section className="paste-box" tabIndex={0} aria-label="What you pasted, as it was understood">
      <table className="paste-table">
        <thead>
          <tr>
            <th scope="col">
              <span className="sr">Row</span>
            </th>
            {Array.from({ length: width }, (_, c) => {
              const own = read.columns.find((column) => column.index === c + 1);
              return (
                <th key={c} scope="col">
                  {matrix ? (
                    <span className="soft">{c === 0 ? 'rows' : c + 1}</span>
                  ) : (
                    <select
                      aria-label={`Column ${c + 1} is`}
                      value={own?.meaning ?? 'unused'}
                      title={own?.why}
                      className={own && own.sure < 0.6 ? 'unsure' : undefined}
                      onChange={(event) => onColumn(c + 1, event.target.value as Meaning)}
                    >
                      {choosable.map((meaning) => (
                        <option key={meaning} value={meaning}>
                          {meaningWord(meaning)}
                        </option>
                      ))}
                    </select>
                  )}
                </th>
              );
            })}
          </tr>
        </thead>
        <tbody>
          {rows.map((r) => (
            <tr key={r}>
              <th scope="row">{r + 1}</th>
              {Array.from({ length: width }, (_, c) => {
                const { mark, why } = marks(r + 1, c + 1);
                return (
                  <td key={c} className={`mark-${mark}`} title={why || undefined}>
                    {table.rows[r]?.[c]}
                  </td>
                );
              })}
            </tr>
          ))}
        </tbody>
      </table>
      {table.rows.length > rows.length && <p className="soft note">and {count(table.rows.length - rows.length, 'row', 'rows')} more</p>}
    </section>
  );
}
