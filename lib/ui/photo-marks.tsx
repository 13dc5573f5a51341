/** What is drawn on a photo: ink with a halo of paper, so that it stands out from anything. Units: a thousandth of the photo's width. */
import type { ShownMark } from '@/lib/widgets/definition';

export const unit = 1000;
export const tallness = ({ width, height }: { width: number; height: number }) => Math.round((unit * height) / width);

type Spot = ShownMark['to'];
const round = (n: number) => Math.round(n * 10) / 10;

/** An arrow's shaft and head, its point at the end. */
function arrowPath(from: Spot, to: Spot, tall: number): string {
  const [x1, y1, x2, y2] = [from.x * unit, from.y * tall, to.x * unit, to.y * tall];
  const along = Math.atan2(y2 - y1, x2 - x1);
  const barb = (turn: number) => `${round(x2 - 44 * Math.cos(along + turn))} ${round(y2 - 44 * Math.sin(along + turn))}`;
  return `M${round(x1)} ${round(y1)}L${round(x2)} ${round(y2)}M${barb(0.45)}L${round(x2)} ${round(y2)}L${barb(-0.45)}`;
}

/** A label stands on the side where there is room. */
function Label({ at, tall, away, children }: { at: Spot; tall: number; away: number; children: string }) {
  if (children === '') return null;
  const left = at.x > 0.6;
  return (
    <text
      className="photo-label"
      x={round(at.x * unit + (left ? -away : away))}
      y={round(at.y * tall)}
      textAnchor={left ? 'end' : 'start'}
      dominantBaseline="central"
    >
      {children.length > 28 ? `${children.slice(0, 27)}…` : children}
    </text>
  );
}

export function MarkShape({ mark, tall }: { mark: ShownMark; tall: number }) {
  const { sort, from, to, label, number } = mark;
  const [x, y] = [round(to.x * unit), round(to.y * tall)];
  if (sort === 'arrow') {
    const start = from ?? { x: Math.max(0, to.x - 0.15), y: to.y };
    const d = arrowPath(start, to, tall);
    return (
      <>
        <path className="photo-halo" d={d} />
        <path className="photo-ink" d={d} />
        <Label at={{ x: start.x, y: start.y + (to.y < start.y ? 44 : -44) / tall }} tall={tall} away={0}>
          {label}
        </Label>
      </>
    );
  }
  if (sort === 'number')
    return (
      <>
        <circle className="photo-disc" cx={x} cy={y} r={34} />
        <text className="photo-number" x={x} y={y} textAnchor="middle" dominantBaseline="central">
          {number}
        </text>
      </>
    );
  return (
    <>
      <circle className="photo-halo" cx={x} cy={y} r={22} />
      <circle className="photo-ink" cx={x} cy={y} r={22} />
      <Label at={to} tall={tall} away={44}>
        {label}
      </Label>
    </>
  );
}

/** All of a photo's marks, laid over it. The list beneath says the same in words. */
export function PhotoMarks({ marks, width, height }: { marks: readonly ShownMark[]; width: number; height: number }) {
  const tall = tallness({ width, height });
  return (
    <svg className="photo-marks" viewBox={`0 0 ${unit} ${tall}`} aria-hidden="true">
      {marks.map((mark, k) => (
        <g key={k}>
          <MarkShape mark={mark} tall={tall} />
        </g>
      ))}
    </svg>
  );
}
