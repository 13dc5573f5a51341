/** A wire along a path: edge, base, and a stripe down its middle with a hairline each side. */
import { edgeToken, splitColour, stripeLine, wireToken } from './colours';
import { round } from './svg';

const stripeShare = 0.38; // of the wire's width

export interface WireProps {
  d: string; // path
  colour: string; // base/stripe
  width?: number;
  /** The figure's unit is a millimetre, not a pixel. */
  mm?: boolean;
}

export function Wire({ d, colour, width = 8, mm }: WireProps) {
  const { base, stripe } = splitColour(colour);
  const edge = mm ? Math.min(width * 0.11, 0.3) : Math.max(width * 0.11, 1.1);
  const hairline = stripeLine(colour);
  const plain = hairline === 'var(--edge-stripe)';
  const lined = stripe && (mm || width >= 7 || !plain);
  const hair = mm ? width * 0.1 : Math.max(edge * 0.8, plain ? 0 : 1.3);
  return (
    <g className="wire" data-wire={colour} fill="none" strokeLinejoin="round">
      <path d={d} stroke={edgeToken(base)} strokeWidth={round(width + 2 * edge)} />
      <path d={d} stroke={wireToken(base)} strokeWidth={round(width)} />
      {lined && <path d={d} stroke={hairline} strokeWidth={round(width * stripeShare + hair)} />}
      {stripe && <path d={d} stroke={wireToken(stripe)} strokeWidth={round(width * stripeShare)} />}
    </g>
  );
}

/** Cut ends are closed in the base colour, so that a stripe never runs out into the ground. */
export function CutEnds({ colour, x1, x2, y, width }: { colour: string; x1: number; x2: number; y: number; width: number }) {
  const { base } = splitColour(colour);
  const bar = (x: number, over: number) => `M${round(x)} ${round(y - width / 2 - over)}v${round(width + 2 * over)}`;
  return (
    <g fill="none">
      <path d={bar(x1 + 1, 0) + bar(x2 - 1, 0)} stroke={wireToken(base)} strokeWidth={2} />
      <path d={bar(x1, 1.1) + bar(x2, 1.1)} stroke={edgeToken(base)} strokeWidth={1.2} />
    </g>
  );
}

/** Tinned strands at a stripped end. */
export function Strands({ x, y, width, length }: { x: number; y: number; width: number; length: number }) {
  const d = [-0.22, 0, 0.22].map((k) => `M${round(x)} ${round(y + k * width)}h${round(length - Math.abs(k) * 6)}`).join('');
  return <path d={d} stroke="var(--wire-metal)" strokeWidth={round(width * 0.2)} fill="none" />;
}
