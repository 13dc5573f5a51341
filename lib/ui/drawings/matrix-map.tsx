/**
 * A matrix as a map: columns come down, rows go across, a switch or lamp sits where they cross. The lines of the chosen one are drawn right
 * through. With names where there is room; on a phone large, under rows that stay, or whole; the table beneath says everything in words.
 */
import type { Chart } from '@/lib/core/chart/types';
import { Flip } from '../flip';
import type { Marks } from './matrix-cell';
import { lampPlan, type MatrixOf, matrixPlan } from './matrix-lines';
import { MatrixSheet } from './matrix-sheet';
import { MatrixLegend, MatrixTable } from './matrix-table';

export interface MatrixMapProps extends Marks {
  chart: Chart;
  /** Which of the two matrices; absent: the switches. */
  of?: MatrixOf;
  /** Prefix of the ids inside; unique on the page. */
  idPrefix: string;
  /** Where a switch or lamp leads, by its number; without it they are not links. */
  href?: (number: string) => string;
}

export function MatrixMap({ chart, of = 'switch', idPrefix, href, ...marks }: MatrixMapProps) {
  const plan = of === 'switch' ? matrixPlan(chart) : lampPlan(chart);
  if (plan.at.size === 0) return <p className="soft">This chart has no {of} matrix.</p>;
  const chosen = plan.things.find((t) => t.number === marks.lit);
  const name = of === 'switch' ? 'Switch matrix' : 'Lamp matrix';
  const label = `${name} of ${chart.title}, ${plan.columns.length} columns by ${plan.rows.length} rows${chosen ? `; ${chosen.number} ${chosen.name} is shown` : ''}`;
  const sheet = { plan, label, marks, href };
  return (
    <figure className="fits matrix-figure" id={`${idPrefix}-figure`}>
      <div className="wide-form">
        <MatrixSheet {...sheet} form="wide" />
      </div>
      <div className="narrow-form">
        <Flip
          id={`${idPrefix}-size`}
          legend="Size of the map"
          sides={[
            {
              label: 'Large',
              content: (
                <div className="bleed">
                  <MatrixSheet {...sheet} form="large" />
                </div>
              ),
            },
            {
              label: 'Whole',
              content: (
                <div className="bleed">
                  <MatrixSheet {...sheet} form="whole" />
                </div>
              ),
            },
          ]}
        />
      </div>
      <MatrixLegend of={of} marks={marks} />
      <details className="as-table">
        <summary>The matrix as a table</summary>
        <MatrixTable plan={plan} of={of} marks={marks} href={href} />
      </details>
    </figure>
  );
}
