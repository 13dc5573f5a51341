/** One crossing of the matrix with the switch that sits there, its number and its marks. */
import type { Circuit } from '@/lib/core/chart/types';
import { FoundMark, OpenMark, PastMark } from './marks';
import { type MatrixLine, shortLines } from './matrix-lines';
import type { MatrixSize } from './matrix-map';

/** What is marked, by switch number as printed. */
export interface Marks {
  lit?: string;
  open?: readonly string[];
  past?: Readonly<Record<string, number>>; // how many past fixes
  found?: readonly string[]; // differs from the manual
}

export interface MatrixCellProps {
  circuits: Circuit[];
  x: number;
  y: number;
  size: MatrixSize;
  form: 'named' | 'plain' | 'narrow';
  onLine: boolean;
  marks: Marks;
  lines: [MatrixLine, MatrixLine];
  href?: (number: string) => string;
}

export function MatrixCell({ circuits, x, y, size, form, onLine, marks, lines, href }: MatrixCellProps) {
  const [first] = circuits;
  if (!first) return null;
  const numbers = circuits.map((c) => c.number);
  const lit = marks.lit !== undefined && numbers.includes(marks.lit);
  const open = numbers.some((n) => marks.open?.includes(n));
  const past = numbers.reduce((sum, n) => sum + (marks.past?.[n] ?? 0), 0);
  const found = numbers.some((n) => marks.found?.includes(n));
  const small = form !== 'named';
  const look = lit ? ' inv' : onLine ? ' lit' : '';
  const [column, row] = lines;
  const words = [
    circuits.map((c) => `${c.number} ${c.name}`).join(', '),
    `column ${column.number} ${column.colour}`,
    `row ${row.number} ${row.colour}`,
    open ? 'open fault' : '',
    past ? `${past} past ${past === 1 ? 'fix' : 'fixes'}` : '',
    found ? 'differs from the manual' : '',
  ];
  const inside = (
    <>
      <rect x={x - size.dx + 1} y={y - size.dy + 1} width={size.w - 2} height={size.h - 2} className="hit" />
      {lit &&
        (small ? (
          <rect x={x + 5} y={y + 7} width={30} height={36} rx={2} className="solid" />
        ) : (
          <rect x={x + 8} y={y + 8} width={size.w - 20} height={size.h - 16} rx={2} className="solid" />
        ))}
      <circle cx={x} cy={y} r={lit ? (small ? 7 : 9) : small ? 4 : 4.5} className={lit ? 'heavy paper' : 'mid paper'} />
      <text x={x + (small ? 10 : 13)} y={y + (small ? 25 : 23)} className={(small ? 'num-s' : 'num-m') + look}>
        {small ? first.number + (circuits.length > 1 ? '+' : '') : numbers.join('+')}
      </text>
      {!small &&
        shortLines(circuits.map((c) => c.name).join(', '), 12).map((line, k) => (
          <text key={k} x={x + 13} y={y + 40 + k * 15} className={`fig-xs${lit ? ' inv' : ''}`}>
            {line}
          </text>
        ))}
      {open ? (
        <g className={lit ? 'inv-m' : undefined}>
          {small ? <OpenMark x={x + 20} y={y + 34} size={4} /> : <OpenMark x={x + size.w - 34} y={y + 17} />}
        </g>
      ) : past > 0 ? (
        <g className={lit ? 'inv-m' : undefined}>
          {small ? <PastMark x={x + 15} y={y + 29} size={10} /> : <PastMark x={x + size.w - 40} y={y + 11} size={12} />}
          {past > 1 && !small && (
            <text x={x + size.w - 25} y={y + 23} className={`fig-xs${lit ? ' inv' : ' soft'}`}>
              {past}
            </text>
          )}
        </g>
      ) : null}
      {found && (small ? <FoundMark x={x + 25} y={y + 5} size={9} /> : <FoundMark x={x + size.w - 27} y={y + 4} />)}
    </>
  );
  if (!href) return <g className="cell">{inside}</g>;
  return (
    <a href={href(first.number)} className="cell" aria-label={words.filter(Boolean).join(', ')} aria-current={lit || undefined}>
      {inside}
    </a>
  );
}
