/** Five-bar gates, for counts that people make by hand. What is still to do is drawn faintly. */
import { round } from './svg';

export function TallyGates({ count, of = count, height = 40, wrap = 5 }: { count: number; of?: number; height?: number; wrap?: number }) {
  const gates = Math.ceil(of / 5);
  const columns = Math.min(gates, wrap);
  const width = Math.max(columns * 46, 46);
  const tall = Math.max(Math.ceil(gates / wrap), 1) * (height + 4) - 4;
  return (
    <svg className="tally" viewBox={`0 0 ${width} ${tall}`} width={width} height={tall} role="img" aria-label={`${count} of ${of}`}>
      <path d={strokes(count, of, height, wrap)} className="ghost" />
      <path d={strokes(0, count, height, wrap)} className="stroke" />
    </svg>
  );
}

/** Strokes from the one after `from` to `to`. */
function strokes(from: number, to: number, height: number, wrap: number): string {
  let d = '';
  for (let k = from; k < to; k++) {
    const gate = Math.floor(k / 5);
    const x = 6 + (gate % wrap) * 46;
    const y = Math.floor(gate / wrap) * (height + 4);
    const j = k % 5;
    d +=
      j < 4
        ? `M${round(x + j * 8 + (k % 3) * 0.6)} ${y + 5}l${(k % 2) - 0.5} ${height - 10}`
        : `M${x - 5} ${y + height - 12}L${x + 30} ${y + 11}`;
  }
  return d;
}
