/** Suspicion as ink: the likelier, the denser. Five steps of hatching, drawn as lines so that they print and need no ids; a number always stands by. */
import { round } from './svg';

/** From each share on, the step: 1.5, 5, 12, 25 and 50 %. */
const steps = [0.015, 0.05, 0.12, 0.25, 0.5];
const hatching = [
  { gap: 11, width: 0.8 },
  { gap: 7, width: 1 },
  { gap: 4.4, width: 1.25 },
  { gap: 2.9, width: 1.5 },
];

/** 0 (blank) to 5 (solid). */
export const density = (share: number): number => steps.filter((from) => share >= from).length;
export const densitySteps: readonly number[] = steps;
/** Below this share the paper stays blank, and beside a wire or a switch no number is needed. */
export const leastInk = 0.015;
/** "61 %"; what is there but rounds to nothing is "<1 %". */
export const inkPercent = (share: number): string => (share > 0 && share < 0.005 ? '<1 %' : `${Math.round(share * 100)} %`);

interface Box {
  x: number;
  y: number;
  w: number;
  h: number;
}

/** Lines rising to the right, `gap` apart, cut at the box. */
export function hatch({ x, y, w, h }: Box, gap: number): string {
  const step = gap * Math.SQRT2;
  const lines: string[] = [];
  for (let c = x + y + step / 2; c < x + w + y + h; c += step) {
    const low = Math.max(x, c - (y + h));
    const high = Math.min(x + w, c - y);
    lines.push(`M${round(low)} ${round(c - low)}L${round(high)} ${round(c - high)}`);
  }
  return lines.join('');
}

/** A box filled by suspicion. `outline` is the class of its edge. */
export function Ink({ share, outline = 'mid', ...box }: Box & { share: number; outline?: string }) {
  const step = density(share);
  const line = hatching[step - 1];
  return (
    <>
      <rect x={box.x} y={box.y} width={box.w} height={box.h} className={`${outline} ${step > hatching.length ? 'solid' : 'paper'}`} />
      {line && <path d={hatch(box, line.gap)} className="ink-line" strokeWidth={line.width} />}
    </>
  );
}

/** A sample of the ink beside a suspect; decoration, the number stands by. */
export function Swatch({ share, width = 44, height = 26 }: { share: number; width?: number; height?: number }) {
  return (
    <svg className="drawing swatch" viewBox={`0 0 ${width} ${height}`} width={width} height={height} aria-hidden="true">
      <Ink share={share} x={1} y={1} w={width - 2} h={height - 2} />
    </svg>
  );
}
