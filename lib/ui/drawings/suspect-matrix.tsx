/** The switch matrix inked by suspicion: at each crossing what lies at the switch itself, at each head what lies in the line; a mark says what was seen. */
import type { Chart } from '@/lib/core/chart/types';
import type { ChainKnown } from './chain-plan';
import { density, densitySteps, Ink, inkPercent, leastInk, Swatch } from './ink';
import { type MatrixLine, matrixPlan, shortLines } from './matrix-lines';
import { SeenMark, seenAsWords } from './seen-mark';
import { Sheet } from './svg';
import { Wire } from './wire';

export interface SuspectMatrixProps {
  chart: Chart;
  known: Omit<ChainKnown, 'shares'>;
  onLine: ReadonlyMap<string, number>; // by net
}

export function SuspectMatrix({ chart, known, onLine }: SuspectMatrixProps) {
  const plan = matrixPlan(chart);
  if (plan.at.size === 0) return null;
  const rows = tableRows(chart, known, onLine);
  const label = `Switch matrix of ${chart.title} by suspicion. ${rows.map(({ what, words }) => `${what}: ${words}`).join('; ')}`;
  return (
    <figure className="fits">
      <div className="wide-form">
        <Form chart={chart} known={known} onLine={onLine} label={label} narrow={false} />
      </div>
      <div className="narrow-form">
        <Form chart={chart} known={known} onLine={onLine} label={label} narrow />
      </div>
      <InkLegend />
      <figcaption>The matrix. The more ink, the likelier: in a square the switch itself, at a head its whole line.</figcaption>
      <details className="as-table no-print">
        <summary>What the matrix shows, as a list</summary>
        <table className="finder-list">
          <tbody>
            {rows.map(({ what, words }) => (
              <tr key={what}>
                <td>{what}</td>
                <td>{words}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </details>
    </figure>
  );
}

function tableRows(chart: Chart, { onSwitch, seen }: SuspectMatrixProps['known'], onLine: SuspectMatrixProps['onLine']) {
  const lines = [...chart.nets.values()]
    .filter((net) => net.kind === 'switch-column' || net.kind === 'switch-row')
    .flatMap((net) => {
      const share = onLine.get(net.id) ?? 0;
      return share >= leastInk
        ? [{ what: `${net.kind === 'switch-column' ? 'Column' : 'Row'} ${net.number}, ${net.colour}`, words: inkPercent(share) }]
        : [];
    });
  const switches = chart.circuits.flatMap((c) => {
    const share = onSwitch.get(c.number) ?? 0;
    const words = [share >= leastInk ? inkPercent(share) : '', seen.get(c.number)?.words ?? ''].filter(Boolean).join(', ');
    return words ? [{ what: `${c.number} ${c.name}`, words }] : [];
  });
  return [...lines, ...switches];
}

const wideSize = { w: 98, h: 66, left: 138, top: 96 };
const narrowSize = { w: 38, h: 54, left: 46, top: 66 };
type Size = typeof wideSize;

function Form({ chart, known, onLine, label, narrow }: SuspectMatrixProps & { label: string; narrow: boolean }) {
  const plan = matrixPlan(chart);
  const { columns, rows } = plan;
  const size = narrow ? narrowSize : { ...wideSize, w: Math.max(44, Math.min(wideSize.w, Math.floor(784 / columns.length))) };
  const shareOf = ({ axis, number }: MatrixLine) => onLine.get(`switch-${axis}.${number}`) ?? 0;
  const width = size.left + columns.length * size.w + 2;
  const height = size.top + rows.length * size.h + 2;
  return (
    <Sheet width={width} height={height} label={label} className="drawing matrix">
      {narrow && (
        <>
          <text x={0} y={14} className="fig-12">
            column
          </text>
          <text x={2} y={size.top - 8} className="fig-12">
            row
          </text>
        </>
      )}
      {columns.map((line, k) => (
        <Head key={line.number} line={line} share={shareOf(line)} x={size.left + k * size.w} y={0} narrow={narrow} />
      ))}
      {rows.map((line, k) => (
        <Head key={line.number} line={line} share={shareOf(line)} x={0} y={size.top + k * size.h} narrow={narrow} />
      ))}
      {columns.flatMap((c, i) =>
        rows.map((r, j) => {
          const at = { x: size.left + i * size.w, y: size.top + j * size.h };
          const circuits = plan.at.get(`${c.number},${r.number}`);
          const key = `${c.number},${r.number}`;
          if (!circuits) return <circle key={key} cx={at.x + size.w / 2} cy={at.y + size.h / 2} r={1.8} className="rule-dot" />;
          const [first] = circuits;
          const share = circuits.reduce((sum, { number }) => sum + (known.onSwitch.get(number) ?? 0), 0);
          const seen = circuits.flatMap(({ number }) => known.seen.get(number) ?? [])[0];
          return (
            <Cell
              key={key}
              {...at}
              size={size}
              narrow={narrow}
              number={first?.number ?? ''}
              name={first?.name ?? ''}
              share={share}
              seen={seen}
            />
          );
        }),
      )}
    </Sheet>
  );
}

function Head({ line, share, x, y, narrow }: { line: MatrixLine; share: number; x: number; y: number; narrow: boolean }) {
  const column = line.axis === 'column';
  const suspected = share >= leastInk;
  if (narrow) {
    return (
      <>
        <text x={x + (column ? 4 : 2)} y={y + (column ? 14 : 18)} className={suspected ? 'num-s lit' : 'num-s'}>
          {line.number}
        </text>
        {suspected && (
          <>
            <Ink share={share} x={x + (column ? 4 : 16)} y={y + (column ? 22 : 5)} w={column ? 28 : 24} h={16} outline="thin" />
            <text x={x + (column ? 4 : 2)} y={y + (column ? 54 : 38)} className="fig-12">
              {inkPercent(share)}
            </text>
          </>
        )}
      </>
    );
  }
  const at = column ? { x: x + 4, y: y + 14 } : { x: 0, y: y + 18 };
  return (
    <>
      <text x={at.x} y={at.y} className={suspected ? 'fig-h' : 'fig-t strong'}>
        {line.axis} {line.number}
      </text>
      <text x={at.x} y={at.y + 18} className="fig-t">
        {line.colour}
      </text>
      {line.colour &&
        (column ? (
          <Wire d={`M${x + 12} ${y + 62}V${y + 88}`} colour={line.colour} width={9} />
        ) : (
          <Wire d={`M108 ${y + 12}H132`} colour={line.colour} width={9} />
        ))}
      {suspected && (
        <>
          <Ink share={share} x={column ? at.x + 22 : 0} y={at.y + (column ? 42 : 26)} w={26} h={16} outline="thin" />
          <text x={column ? at.x + 51 : 32} y={at.y + (column ? 54 : 38)} className="fig-12 strong">
            {inkPercent(share)}
          </text>
        </>
      )}
    </>
  );
}

interface CellProps {
  x: number;
  y: number;
  size: Size;
  narrow: boolean;
  number: string;
  name: string;
  share: number;
  seen: { as: Parameters<typeof SeenMark>[0]['as']; words: string } | undefined;
}

function Cell({ x, y, size, narrow, number, name, share, seen }: CellProps) {
  const solid = density(share) === densitySteps.length;
  const look = solid ? ' inv' : ' halo';
  const known = seen && seen.as !== 'untried';
  const mark = narrow ? { x: x + size.w - 11, y: y + 29, r: 4.5 } : { x: x + size.w - 18, y: y + 15, r: 6.5 };
  return (
    <g>
      <Ink share={share} x={x + 1} y={y + 1} w={size.w - 4} h={size.h - 4} outline={known || share >= leastInk ? 'thin' : 'quiet'} />
      <text x={x + (narrow ? 4 : 7)} y={y + (narrow ? 18 : 20)} className={`${narrow ? 'num-s' : 'num-m'}${known ? ' lit' : ''}${look}`}>
        {number}
      </text>
      {known && (
        <g className={solid ? 'inv-m' : undefined}>
          {!solid && <circle cx={mark.x} cy={mark.y} r={mark.r + 3} className="paper" />}
          <SeenMark as={seen.as} {...mark} />
        </g>
      )}
      {share >= leastInk && (
        <text x={x + (narrow ? size.w - 6 : 7)} y={y + (narrow ? 48 : 56)} className={`fig-12 strong${narrow ? ' end-a' : ''}${look}`}>
          {inkPercent(share)}
        </text>
      )}
      {!narrow && size.w > 80 && (
        <text x={x + 7} y={y + 39} className={`fig-12${look}`}>
          {shortLines(name, 14)[0]}
        </text>
      )}
      {!narrow && known && share < leastInk && (
        <text x={x + 7} y={y + 56} className={`fig-12 strong${look}`}>
          {countsOnly(seen.words)}
        </text>
      )}
    </g>
  );
}

/** The mark beside it says whether it answers or never does. */
const countsOnly = (words: string) => shortLines(words.replace(/^(answers|never), /, '').replace(' of ', '/'), 14)[0];

const marks = ['answers', 'some', 'never', 'stuck', 'odd'] as const;

/** The five steps of ink and the marks, in words. */
export function InkLegend() {
  return (
    <ul className="legend">
      {densitySteps.map((from) => (
        <li key={from}>
          <Swatch share={from} width={30} height={20} />
          from {from * 100} %
        </li>
      ))}
      {marks.map((as) => (
        <li key={as}>
          <Sheet width={22} height={22} className="drawing">
            <SeenMark as={as} x={11} y={11} r={6.5} />
          </Sheet>
          {seenAsWords[as]}
        </li>
      ))}
    </ul>
  );
}
