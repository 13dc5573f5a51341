/** One crossing of a matrix with what sits there, its number and its marks. */
import { FoundMark, OpenMark, PastMark } from './marks';
import { type MatrixLine, type MatrixThing, shortLines } from './matrix-lines';
import type { MatrixSize } from './matrix-size';

/** What is marked, by number as printed. */
export interface Marks {
  lit?: string;
  open?: Readonly<Record<string, number>>; // how many open pages
  past?: Readonly<Record<string, number>>; // how many past fixes
  unproved?: Readonly<Record<string, number>>; // how many of the past fixes have no passed proof
  found?: readonly string[]; // differs from the manual
  shown?: readonly string[]; // on a photo
}

/** The marks of some numbers together. */
export function marksOf(marks: Marks, numbers: readonly string[]) {
  const sum = (counts: Readonly<Record<string, number>> = {}) => numbers.reduce((total, n) => total + (counts[n] ?? 0), 0);
  return {
    lit: marks.lit !== undefined && numbers.includes(marks.lit),
    open: sum(marks.open),
    past: sum(marks.past),
    unproved: sum(marks.unproved),
    found: numbers.some((n) => marks.found?.includes(n)),
    shown: numbers.some((n) => marks.shown?.includes(n)),
  };
}

const counted = (n: number, one: string, many: string) => (n === 0 ? '' : `${n} ${n === 1 ? one : many}`);

/** What the marks say, in words; empty when there are none. */
export function marksInWords({ open, past, unproved, found, shown }: ReturnType<typeof marksOf>): string[] {
  return [
    counted(open, 'open fault', 'open faults'),
    past ? `${counted(past, 'past fix', 'past fixes')}${unproved ? `, ${unproved} not proved` : ''}` : '',
    found ? 'differs from the manual' : '',
    shown ? 'shown on a photo' : '',
  ].filter(Boolean);
}

export interface MatrixCellProps {
  things: MatrixThing[];
  x: number;
  y: number;
  size: MatrixSize;
  onLine: boolean;
  marks: Marks;
  lines: [MatrixLine, MatrixLine];
  href?: (number: string) => string;
}

export function MatrixCell({ things, x, y, size, onLine, marks, lines, href }: MatrixCellProps) {
  const [first] = things;
  if (!first) return null;
  const numbers = things.map((c) => c.number);
  const mark = marksOf(marks, numbers);
  const { lit, open, past, found, shown } = mark;
  const small = !size.named;
  const look = lit ? ' inv' : onLine ? ' lit' : '';
  const [column, row] = lines;
  const words = [
    things.map((c) => `${c.number} ${c.name}`).join(', '),
    `column ${column.number} ${column.colour}`,
    `row ${row.number} ${row.colour}`,
    ...marksInWords(mark),
  ];
  const right = x + size.w - size.dx;
  const pastX = right - (past > 1 ? 28 : 20);
  const openX = (past > 0 ? pastX - 4 : right - 4) - (open > 1 ? 20 : 10);
  const inside = (
    <>
      <rect x={x - size.dx + 1} y={y - size.dy + 1} width={size.w - 2} height={size.h - 2} className="hit" />
      {lit &&
        (small ? (
          <rect x={x + 5} y={y + 7} width={30} height={36} rx={2} className="solid" />
        ) : (
          <rect x={x + 8} y={y + 6} width={size.w - 20} height={size.h - 14} rx={2} className="solid" />
        ))}
      <circle cx={x} cy={y} r={lit ? (small ? 7 : 9) : small ? 4 : 4.5} className={lit ? 'heavy paper' : 'mid paper'} />
      {shown && <circle cx={x} cy={y} r={lit ? 3 : small ? 1.5 : 2} className="solid" />}
      <text x={x + (small ? 10 : 13)} y={y + (small ? 25 : 23)} className={(small ? 'num-s' : 'num-m') + look}>
        {small ? first.number + (things.length > 1 ? '+' : '') : numbers.join('+')}
      </text>
      {!small &&
        shortLines(things.map((c) => c.name).join(', '), 12).map((line, k) => (
          <text key={k} x={x + 13} y={y + 40 + k * 15} className={`fig-xs${lit ? ' inv' : ''}`}>
            {line}
          </text>
        ))}
      <g className={lit ? 'inv-m' : undefined}>
        {open > 0 && (small ? <OpenMark x={x + 20} y={y + 34} size={4} /> : <OpenMark x={openX} y={y + 17} />)}
        {past > 0 && !small && <PastMark x={pastX} y={y + 11} size={12} />}
        {past > 0 && small && open === 0 && <PastMark x={x + 15} y={y + 29} size={10} />}
      </g>
      {!small &&
        [
          { count: open, at: openX + 9 },
          { count: past, at: pastX + 15 },
        ].map(
          ({ count, at }) =>
            count > 1 && (
              <text key={at} x={at} y={y + 23} className={`fig-xs${lit ? ' inv' : ' soft'}`}>
                {count}
              </text>
            ),
        )}
      {found && (small ? <FoundMark x={x + 25} y={y + 5} size={9} /> : <FoundMark x={x + size.w - 27} y={y + 4} />)}
    </>
  );
  if (!href) return <g className="cell">{inside}</g>;
  return (
    <a
      href={href(first.number)}
      className="cell"
      data-cell={`${column.number},${row.number}`}
      aria-label={words.join(', ')}
      aria-current={lit || undefined}
    >
      {inside}
    </a>
  );
}
