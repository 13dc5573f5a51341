/**
 * The switch matrix: columns come down, rows go across, a switch sits where they cross. The lines of the chosen switch are drawn right
 * through. Two forms: with names where there is room, numbers only on a phone; the table beneath says everything in words.
 */
import type { Chart } from '@/lib/core/chart/types';
import { splitColour } from './colours';
import { type Marks, MatrixCell } from './matrix-cell';
import { type MatrixLine, matrixPlan, shortLines } from './matrix-lines';
import { MatrixLegend, MatrixTable } from './matrix-table';
import { Sheet } from './svg';
import { Wire } from './wire';

export interface MatrixMapProps extends Marks {
  chart: Chart;
  /** Prefix of the ids inside; unique on the page. */
  idPrefix: string;
  /** Where a switch leads, by its number; without it the switches are not links. */
  href?: (number: string) => string;
}

export function MatrixMap({ chart, idPrefix, href, lit, open = [], past = {}, found = [] }: MatrixMapProps) {
  const marks = { lit, open, past, found };
  const plan = matrixPlan(chart);
  if (plan.at.size === 0) return <p className="soft">This chart has no switch matrix.</p>;
  return (
    <figure className="fits matrix-figure" id={`${idPrefix}-figure`}>
      <div className="wide-form">
        <MatrixSheet chart={chart} marks={marks} href={href} narrow={false} />
      </div>
      <div className="narrow-form bleed">
        <MatrixSheet chart={chart} marks={marks} href={href} narrow />
      </div>
      <MatrixLegend />
      <details className="as-table">
        <summary>The matrix as a table</summary>
        <MatrixTable chart={chart} plan={plan} marks={marks} href={href} />
      </details>
    </figure>
  );
}

const narrowSize = { w: 44, h: 56, left: 38, top: 84, dx: 8, dy: 13, wire: 8 };
const longestName = 12;

function wideSize(columns: number, twoLines: boolean) {
  const left = 138;
  const w = Math.max(44, Math.min(98, Math.floor(784 / columns)));
  return { w, h: twoLines && w >= 90 ? 78 : 64, left, top: 104, dx: 15, dy: 14, wire: 10 };
}

export type MatrixSize = ReturnType<typeof wideSize>;

function MatrixSheet({ chart, marks, href, narrow }: { chart: Chart; marks: Marks; href?: (number: string) => string; narrow: boolean }) {
  const plan = matrixPlan(chart);
  const twoLines = [...plan.at.values()].flat().some((c) => shortLines(c.name, longestName).length > 1);
  const size = narrow ? narrowSize : wideSize(plan.columns.length, twoLines);
  const named = !narrow && size.w >= 90;
  const chosen = marks.lit === undefined ? undefined : chart.circuit.get(marks.lit);
  const width = size.left + plan.columns.length * size.w + (narrow ? 0 : 4);
  const height = size.top + plan.rows.length * size.h + 4;
  const xOf = (k: number) => size.left + k * size.w + size.dx;
  const yOf = (k: number) => size.top + k * size.h + size.dy;
  const head = (line: MatrixLine, k: number) => ({ line, narrow, lit: chosen?.[line.axis] === line.number, x: xOf(k), y: yOf(k), size });
  const label = `Switch matrix of ${chart.title}, ${plan.columns.length} columns by ${plan.rows.length} rows${chosen ? `; ${chosen.number} ${chosen.name} is shown` : ''}`;
  return (
    <Sheet
      width={width}
      height={height}
      label={label}
      role={href ? 'group' : 'img'}
      className={narrow ? 'drawing matrix narrow' : 'drawing matrix'}
    >
      {plan.columns.map(
        (c, k) =>
          c.number !== chosen?.column && <line key={c.number} x1={xOf(k)} y1={size.top} x2={xOf(k)} y2={height - 8} className="quiet" />,
      )}
      {plan.rows.map(
        (r, k) =>
          r.number !== chosen?.row && <line key={r.number} x1={size.left} y1={yOf(k)} x2={width - 4} y2={yOf(k)} className="quiet" />,
      )}
      {plan.columns.map(
        (c, k) =>
          c.colour && (
            <Wire
              key={c.number}
              d={`M${xOf(k)} ${narrow ? 54 : 66}V${c.number === chosen?.column ? height - 6 : size.top - 6}`}
              colour={c.colour}
              width={size.wire}
            />
          ),
      )}
      {plan.rows.map(
        (r, k) =>
          r.colour && (
            <Wire
              key={r.number}
              d={`M${narrow ? 16 : size.left - 34} ${yOf(k)}H${r.number === chosen?.row ? width - 4 : size.left + 2}`}
              colour={r.colour}
              width={size.wire}
            />
          ),
      )}
      {plan.columns.map((c, k) => (
        <ColumnHead key={c.number} {...head(c, k)} />
      ))}
      {plan.rows.map((r, k) => (
        <RowHead key={r.number} {...head(r, k)} />
      ))}
      {plan.columns.flatMap((c, i) =>
        plan.rows.map((r, j) => {
          const circuits = plan.at.get(`${c.number},${r.number}`);
          const key = `${c.number},${r.number}`;
          if (!circuits) return <circle key={key} cx={xOf(i)} cy={yOf(j)} r={1.8} className="rule-dot" />;
          return (
            <MatrixCell
              key={key}
              circuits={circuits}
              x={xOf(i)}
              y={yOf(j)}
              size={size}
              form={narrow ? 'narrow' : named ? 'named' : 'plain'}
              onLine={c.number === chosen?.column || r.number === chosen?.row}
              marks={marks}
              lines={[c, r]}
              href={href}
            />
          );
        }),
      )}
    </Sheet>
  );
}

interface HeadProps {
  line: MatrixLine;
  narrow: boolean;
  lit: boolean;
  x: number;
  y: number;
  size: MatrixSize;
}

function ColumnHead({ line, narrow, lit, x, size }: HeadProps) {
  const { base, stripe } = splitColour(line.colour);
  if (narrow || size.w < 90) {
    return (
      <>
        <text x={x - 5} y={14} className={lit ? 'num-s lit' : 'num-s'}>
          {line.number}
        </text>
        <text x={x - 5} y={31} className="fig-12">
          {base}
        </text>
        <text x={x - 5} y={45} className="fig-12">
          {stripe}
        </text>
      </>
    );
  }
  return (
    <>
      <text x={x - 7} y={14} className={lit ? 'fig-h' : 'fig-t strong'}>
        column {line.number}
      </text>
      <text x={x - 7} y={33} className="fig-t" data-wire={line.colour}>
        {line.colour}
      </text>
      <text x={x - 7} y={52} className="fig-m soft">
        {line.pin}
      </text>
    </>
  );
}

function RowHead({ line, narrow, lit, y }: HeadProps) {
  const { base, stripe } = splitColour(line.colour);
  if (narrow) {
    return (
      <>
        <text x={3} y={y + 6} className={lit ? 'num-s lit' : 'num-s'}>
          {line.number}
        </text>
        <text x={3} y={y + 23} className="fig-12">
          {base}
        </text>
        <text x={3} y={y + 36} className="fig-12">
          {stripe}
        </text>
      </>
    );
  }
  return (
    <>
      <text x={0} y={y + 1} className={lit ? 'fig-h' : 'fig-t strong'}>
        row {line.number}
      </text>
      <text x={0} y={y + 19} className="fig-t" data-wire={line.colour}>
        {line.colour}
      </text>
      <text x={0} y={y + 36} className="fig-m soft">
        {line.pin}
      </text>
    </>
  );
}
