/** A matrix in words: what its marks mean, and everything that sits in it with its two wires. */
import { FoundMark, OpenMark, PastMark } from './marks';
import { type Marks, marksInWords, marksOf } from './matrix-cell';
import type { MatrixOf, MatrixPlan } from './matrix-lines';
import { Sheet } from './svg';

/** Only the marks that stand on the map are explained. */
export function MatrixLegend({ of, marks }: { of: MatrixOf; marks: Marks }) {
  const row = (words: string, drawing: React.ReactNode) => (
    <li>
      <Sheet width={22} height={22} className="drawing">
        {drawing}
      </Sheet>
      {words}
    </li>
  );
  const some = (counts: Readonly<Record<string, number>> = {}) => Object.keys(counts).length > 0;
  return (
    <ul className="legend">
      {row(of, <circle cx={11} cy={11} r={5} className="mid paper" />)}
      {(marks.shown?.length ?? 0) > 0 &&
        row(
          `${of} shown on a photo`,
          <>
            <circle cx={11} cy={11} r={5} className="mid paper" />
            <circle cx={11} cy={11} r={2} className="solid" />
          </>,
        )}
      {row('not used', <circle cx={11} cy={11} r={2} className="rule-dot" />)}
      {some(marks.open) && row('open fault, with how many', <OpenMark x={11} y={11} />)}
      {some(marks.past) && row('past fix, with how many', <PastMark x={5} y={4} />)}
      {(marks.found?.length ?? 0) > 0 && row('differs from the manual', <FoundMark x={5} y={5} size={12} />)}
    </ul>
  );
}

export function MatrixTable({
  plan,
  of,
  marks,
  href,
}: {
  plan: MatrixPlan;
  of: MatrixOf;
  marks: Marks;
  href?: (number: string) => string;
}) {
  const colour = (axis: 'columns' | 'rows', number: number | undefined) => plan[axis].find((l) => l.number === number)?.colour ?? '';
  return (
    <table className="stack">
      <thead>
        <tr>
          <th>No.</th>
          <th>{of === 'switch' ? 'Switch' : 'Lamp'}</th>
          <th>Column</th>
          <th>Row</th>
          <th>Notes</th>
        </tr>
      </thead>
      <tbody>
        {plan.things.map((c) => (
          <tr key={c.number}>
            <td className="mono">{href ? <a href={href(c.number)}>{c.number}</a> : c.number}</td>
            <td>{c.name}</td>
            <td data-h="column">
              {c.column} {colour('columns', c.column)}
            </td>
            <td data-h="row">
              {c.row} {colour('rows', c.row)}
            </td>
            <td>{marksInWords(marksOf(marks, [c.number])).join('; ')}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
