/** A short sample of wire, and the chip that always carries its name. */
import { CutEnds, Strands, Wire } from './wire';

/** A piece of wire with a stripped end. Decoration: the name stands beside it. */
export function Sample({ colour, length = 40, width = 10 }: { colour: string; length?: number; width?: number }) {
  const y = width / 2 + 2;
  return (
    <svg className="sample" viewBox={`0 0 ${length + 2} ${width + 4}`} width={length + 2} height={width + 4} aria-hidden="true">
      <Strands x={length - 10} y={y} width={width} length={11} />
      <Wire d={`M1.5 ${y}H${length - 9}`} colour={colour} width={width} />
      <CutEnds colour={colour} x1={1.5} x2={length - 9} y={y} width={width} />
    </svg>
  );
}

/** A wire in running text: its sample and its name. */
export function WireChip({ colour, length, width }: { colour: string; length?: number; width?: number }) {
  return (
    <span className="chip" data-wire={colour}>
      <Sample colour={colour} length={length} width={width} />
      <span>{colour}</span>
    </span>
  );
}
