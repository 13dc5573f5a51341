/** The matrix in words: what its marks mean, and every switch with its two wires. */
import type { Chart } from '@/lib/core/chart/types';
import { FoundMark, OpenMark, PastMark } from './marks';
import type { Marks } from './matrix-cell';
import type { MatrixPlan } from './matrix-lines';
import { Sheet } from './svg';

export function MatrixLegend() {
  const row = (words: string, drawing: React.ReactNode) => (
    <li>
      <Sheet width={22} height={22} className="drawing">
        {drawing}
      </Sheet>
      {words}
    </li>
  );
  return (
    <ul className="legend">
      {row('switch', <circle cx={11} cy={11} r={5} className="mid paper" />)}
      {row('not used', <circle cx={11} cy={11} r={2} className="rule-dot" />)}
      {row('open fault', <OpenMark x={11} y={11} />)}
      {row('past fix, with how many', <PastMark x={5} y={4} />)}
      {row('differs from the manual', <FoundMark x={5} y={5} size={12} />)}
    </ul>
  );
}

export function MatrixTable({
  chart,
  plan,
  marks,
  href,
}: {
  chart: Chart;
  plan: MatrixPlan;
  marks: Marks;
  href?: (number: string) => string;
}) {
  const colour = (axis: 'columns' | 'rows', number: number | undefined) => plan[axis].find((l) => l.number === number)?.colour ?? '';
  return (
    <table className="stack">
      <thead>
        <tr>
          <th>No.</th>
          <th>Switch</th>
          <th>Column</th>
          <th>Row</th>
          <th>Notes</th>
        </tr>
      </thead>
      <tbody>
        {chart.circuits
          .filter((c) => c.kind === 'matrix')
          .map((c) => {
            const past = marks.past?.[c.number] ?? 0;
            const notes = [
              marks.open?.includes(c.number) ? 'open fault' : '',
              past ? `past fixes ${past}` : '',
              marks.found?.includes(c.number) ? 'differs from the manual' : '',
            ];
            return (
              <tr key={c.number}>
                <td className="mono">{href ? <a href={href(c.number)}>{c.number}</a> : c.number}</td>
                <td>{c.name}</td>
                <td data-h="column">
                  {c.column} {colour('columns', c.column)}
                </td>
                <td data-h="row">
                  {c.row} {colour('rows', c.row)}
                </td>
                <td>{notes.filter(Boolean).join(', ')}</td>
              </tr>
            );
          })}
      </tbody>
    </table>
  );
}
