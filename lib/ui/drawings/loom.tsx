/** The loom: the wires of a page, leaving the ruled margin beside its title. Decoration: their names stand in the text. */
import { CutEnds, Strands, Wire } from './wire';

export function Loom({
  colours,
  gap = 16,
  width = 9,
  length = 40,
}: {
  colours: readonly string[];
  gap?: number;
  width?: number;
  length?: number;
}) {
  if (colours.length === 0) return null;
  const height = colours.length * gap;
  return (
    <svg className="loom" viewBox={`0 0 ${length + 8} ${height}`} width={length + 8} height={height} aria-hidden="true">
      {colours.map((colour, i) => {
        const y = gap / 2 + i * gap;
        return (
          <g key={i}>
            <Strands x={length - 2} y={y} width={width} length={9} />
            <Wire d={`M1 ${y}H${length}`} colour={colour} width={width} />
            <CutEnds colour={colour} x1={1} x2={length} y={y} width={width} />
          </g>
        );
      })}
    </svg>
  );
}
