/** One row of a plan: a slice of the housing at its wire entry. Stacked slices make the whole. Decoration: the row names the wire. */
import { KeyCross, PinOne } from './marks';
import { Wire } from './wire';

export interface PlanSliceProps {
  colours: readonly string[]; // one a wire; none for a key or a free position
  keyed: boolean;
  first: boolean;
  last: boolean;
  height?: number;
  length?: number; // of the wire beyond the housing
}

const beyond = 200; // the body runs on past the slice, so that a taller row shows no gap; the row cuts it off

export function PlanSlice({ colours, keyed, first, last, height = 64, length = 116 }: PlanSliceProps) {
  const width = 52 + length;
  const y = height / 2;
  const top = first ? 10 : -beyond;
  const foot = last ? height - 10 : height + beyond;
  return (
    <svg className="slice drawing" viewBox={`0 0 ${width} ${height}`} width={width} height={height} aria-hidden="true">
      <rect x={8} y={top} width={44} height={foot - top} rx={4} className="mid plate-fill" />
      <rect x={15} y={y - 15} width={30} height={30} className={keyed ? 'mid solid-soft' : 'mid paper'} />
      {keyed && <KeyCross x={30} y={y} size={8} />}
      {colours.map((colour, k) => {
        const count = colours.length;
        const thick = count > 2 ? 6 : count > 1 ? 9 : 12;
        const near = y + (k - (count - 1) / 2) * (thick + 2.6);
        const far = y + (k - (count - 1) / 2) * (thick + 7);
        const d = count > 1 ? `M30 ${near}H60C74 ${near} 74 ${far} 88 ${far}H${width}` : `M30 ${y}H${width}`;
        return <Wire key={k} d={d} colour={colour} width={thick} />;
      })}
      {first && <PinOne x={8} y={y} size={6} tip="right" />}
    </svg>
  );
}
