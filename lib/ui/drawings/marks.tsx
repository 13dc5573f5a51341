/** Marks that mean one thing everywhere. They differ by shape, never by colour alone. */

/** Position 1: a filled triangle. `tip` says where it points. */
export function PinOne({ x, y, size = 5, tip }: { x: number; y: number; size?: number; tip: 'up' | 'down' | 'right' }) {
  const s = size;
  const d =
    tip === 'right'
      ? `M${x - 1.5 * s} ${y - s}v${2 * s}l${1.5 * s} ${-s}z`
      : tip === 'up'
        ? `M${x - s} ${y + 1.5 * s}h${2 * s}l${-s} ${-1.5 * s}z`
        : `M${x - s} ${y - 1.5 * s}h${2 * s}l${-s} ${1.5 * s}z`;
  return <path d={d} className="solid pin-one" />;
}

/** Key: a cross. */
export function KeyCross({ x, y, size }: { x: number; y: number; size: number }) {
  return (
    <path
      d={`M${x - size} ${y - size}l${2 * size} ${2 * size}M${x + size} ${y - size}l${-2 * size} ${2 * size}`}
      className="mid none key-cross"
    />
  );
}

/** An open fault: an empty tick box. */
export function OpenMark({ x, y, size = 6.5 }: { x: number; y: number; size?: number }) {
  return <rect x={x - size} y={y - size} width={2 * size} height={2 * size} className="heavy none" />;
}

/** A past fix: a tick, from its left end. */
export function PastMark({ x, y, size = 13 }: { x: number; y: number; size?: number }) {
  return <path d={`M${x} ${y + size * 0.5}l${size * 0.36} ${size * 0.4}l${size * 0.7} ${-size * 0.95}`} className="past none" />;
}

/** Differs from the manual: a folded corner. */
export function FoundMark({ x, y, size = 10 }: { x: number; y: number; size?: number }) {
  return <path d={`M${x} ${y}h${size}v${size}z`} className="solid" />;
}
