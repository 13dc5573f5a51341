/** Five-bar gates, for counts that people make by hand. Bars still to come are faint; triangles stand under the bars where something is reached. */

export interface GateMark {
  at: number; // the bar
  shape: 'open' | 'full';
}

const size = { height: 46, pitch: 46, bars: 5, left: 6 };
const marksBelow = 14;

/** Bar `j` (0 to 4) of a gate: four uprights, none quite like the last, and the one across. */
const bar = (j: number, n: number) =>
  j < size.bars - 1
    ? `M${size.left + j * 8 + (n % 3) * 0.6} 5l${(n % 2) - 0.5} ${size.height - 10}`
    : `M${size.left - 5} ${size.height - 12}L${size.left + 30} 11`;

const middle = (j: number) => (j < size.bars - 1 ? size.left + j * 8 + 0.6 : size.left + 34);

function Triangle({ x, y, shape }: { x: number; y: number; shape: GateMark['shape'] }) {
  return <path d={`M${x - 5} ${y + 9}h10l-5 -9z`} className={shape === 'full' ? 'gate-mark full' : 'gate-mark'} />;
}

/** The triangle alone, to explain it in words beside. */
export function GateMarkSign({ shape }: { shape: GateMark['shape'] }) {
  return (
    <svg className="tally" viewBox="0 0 14 12" width={14} height={12} aria-hidden="true">
      <Triangle x={7} y={1.5} shape={shape} />
    </svg>
  );
}

/** `done` bars of `total`, drawn from bar `from` (a multiple of 5) on. Wraps between gates; `label` says it in words. */
export function TallyGates({
  done,
  total,
  from = 0,
  marks = [],
  label,
}: {
  done: number;
  total: number;
  from?: number;
  marks?: readonly GateMark[];
  label: string;
}) {
  const gates = Array.from({ length: Math.max(0, Math.ceil((total - from) / size.bars)) }, (_, g) => from + g * size.bars);
  const height = size.height + (marks.length > 0 ? marksBelow : 0);
  return (
    <div className="gates" role="img" aria-label={label}>
      {gates.map((first) => {
        const bars = Array.from({ length: Math.min(size.bars, total - first) }, (_, j) => ({ j, n: first + j }));
        const path = (drawn: boolean) =>
          bars
            .filter(({ n }) => n < done === drawn)
            .map(({ j, n }) => bar(j, n))
            .join('');
        const [ghost, stroke] = [path(false), path(true)];
        return (
          <svg key={first} className="tally" viewBox={`0 0 ${size.pitch} ${height}`} width={size.pitch} height={height} aria-hidden="true">
            {ghost && <path d={ghost} className="ghost" />}
            {stroke && <path d={stroke} className="stroke" />}
            {marks.map((mark) => {
              const j = mark.at - 1 - first;
              return j >= 0 && j < size.bars ? <Triangle key={mark.shape} x={middle(j)} y={size.height} shape={mark.shape} /> : null;
            })}
          </svg>
        );
      })}
    </div>
  );
}
