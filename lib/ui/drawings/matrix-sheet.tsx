/** One form of the matrix figure. In the large one the row heads are a sheet of their own, which stays while the cells move. */
import type { ReactNode } from 'react';
import { type Marks, MatrixCell } from './matrix-cell';
import { ColumnHead, RowHead } from './matrix-heads';
import { type MatrixLine, type MatrixPlan, shortLines } from './matrix-lines';
import { type MatrixForm, type MatrixSize, matrixSize } from './matrix-size';
import { Sheet } from './svg';
import { Wire } from './wire';

const longestName = 12; // letters of a line

export interface MatrixSheetProps {
  plan: MatrixPlan;
  form: MatrixForm;
  label: string;
  marks: Marks;
  href?: (number: string) => string;
}

export function MatrixSheet({ plan, form, label, marks, href }: MatrixSheetProps) {
  const twoLines = [...plan.at.values()].flat().some((c) => shortLines(c.name, longestName).length > 1);
  const size = matrixSize(form, plan.columns.length, twoLines);
  const chosen = plan.things.find((t) => t.number === marks.lit);
  const heads = form !== 'large';
  const left = heads ? size.left : 6;
  const width = left + plan.columns.length * size.w + (form === 'whole' ? 0 : 4);
  const height = size.top + plan.rows.length * size.h + 4;
  const xOf = (k: number) => left + k * size.w + size.dx;
  const yOf = (k: number) => size.top + k * size.h + size.dy;
  const isLit = (line: MatrixLine) => chosen?.[line.axis] === line.number;
  const head = (line: MatrixLine, k: number) => ({ line, lit: isLit(line), x: xOf(k), y: yOf(k), size });
  const cells = (
    <Sheet
      width={width}
      height={height}
      label={label}
      role={href ? 'group' : 'img'}
      className={form === 'wide' ? 'drawing matrix' : 'drawing matrix narrow'}
    >
      {plan.columns.map(
        (c, k) => !isLit(c) && <line key={c.number} x1={xOf(k)} y1={size.top} x2={xOf(k)} y2={height - 8} className="quiet" />,
      )}
      {plan.rows.map((r, k) => !isLit(r) && <line key={r.number} x1={left} y1={yOf(k)} x2={width - 4} y2={yOf(k)} className="quiet" />)}
      {plan.columns.map(
        (c, k) =>
          c.colour && (
            <Wire
              key={c.number}
              d={`M${xOf(k)} ${wireFrom[form]}V${isLit(c) ? height - 6 : size.top - 6}`}
              colour={c.colour}
              width={size.wire}
            />
          ),
      )}
      {plan.rows.map(
        (r, k) =>
          r.colour &&
          (heads || isLit(r)) && (
            <Wire
              key={r.number}
              d={`M${heads ? (form === 'whole' ? 16 : left - 34) : 0} ${yOf(k)}H${isLit(r) ? width - 4 : left + 2}`}
              colour={r.colour}
              width={size.wire}
            />
          ),
      )}
      {plan.columns.map((c, k) => (
        <ColumnHead key={c.number} {...head(c, k)} />
      ))}
      {heads && plan.rows.map((r, k) => <RowHead key={r.number} {...head(r, k)} />)}
      {plan.columns.flatMap((c, i) =>
        plan.rows.map((r, j) => {
          const key = `${c.number},${r.number}`;
          const things = plan.at.get(key);
          if (!things) return <circle key={key} cx={xOf(i)} cy={yOf(j)} r={1.8} className="rule-dot" />;
          const onLine = isLit(c) || isLit(r);
          return (
            <MatrixCell
              key={key}
              things={things}
              x={xOf(i)}
              y={yOf(j)}
              size={size}
              onLine={onLine}
              marks={marks}
              lines={[c, r]}
              href={href}
            />
          );
        }),
      )}
    </Sheet>
  );
  return heads ? (
    cells
  ) : (
    <RowsThatStay plan={plan} size={size} height={height} head={head}>
      {cells}
    </RowsThatStay>
  );
}

const wireFrom: Record<MatrixForm, number> = { wide: 66, large: 50, whole: 54 };

function RowsThatStay({
  plan,
  size,
  height,
  head,
  children,
}: {
  plan: MatrixPlan;
  size: MatrixSize;
  height: number;
  head: (line: MatrixLine, k: number) => Parameters<typeof RowHead>[0];
  children: ReactNode;
}) {
  return (
    <div className="rows-stay">
      <Sheet width={size.left} height={height} className="drawing matrix narrow row-heads">
        <rect x={0} y={0} width={size.left} height={height} className="paper" />
        {plan.rows.map((r, k) => {
          const { y } = head(r, k);
          return r.colour && <Wire key={r.number} d={`M30 ${y}H${size.left}`} colour={r.colour} width={size.wire} />;
        })}
        {plan.rows.map((r, k) => (
          <RowHead key={r.number} {...head(r, k)} />
        ))}
      </Sheet>
      {children}
    </div>
  );
}
