/** How a switch behaved, by shape: answers, misses some, never, on by itself, brings others, not tried. */

export type SeenAs = 'answers' | 'some' | 'never' | 'stuck' | 'odd' | 'untried';
export const seenAsWords: Record<SeenAs, string> = {
  answers: 'answers',
  some: 'misses some',
  never: 'never registers',
  stuck: 'on by itself',
  odd: 'brings others',
  untried: 'not tried',
};

/** Centred at x, y; `r` is half its size. Nothing is drawn for a switch that was not tried. */
export function SeenMark({ as, x, y, r = 7 }: { as: SeenAs; x: number; y: number; r?: number }) {
  switch (as) {
    case 'answers':
      return <path d={`M${x - r} ${y}l${r * 0.7} ${r * 0.8}l${r * 1.3} ${-r * 1.7}`} className="past none" />;
    case 'some':
      return (
        <>
          <circle cx={x} cy={y} r={r} className="mid paper" />
          <path d={`M${x} ${y - r}a${r} ${r} 0 0 1 0 ${2 * r}z`} className="solid" />
        </>
      );
    case 'never':
      return <path d={`M${x - r} ${y - r}l${2 * r} ${2 * r}M${x + r} ${y - r}l${-2 * r} ${2 * r}`} className="heavy none" />;
    case 'stuck':
      return <rect x={x - r} y={y - r} width={2 * r} height={2 * r} className="solid" />;
    case 'odd':
      return <path d={`M${x - r} ${y + r}l${r} ${-2 * r}l${r} ${2 * r}z`} className="heavy none" />;
    case 'untried':
      return null;
  }
}

/** The mark alone beside words that say the same. */
export function SeenSign({ as }: { as: SeenAs }) {
  if (as === 'untried') return null;
  return (
    <svg className="drawing sign-of" viewBox="0 0 20 20" width={20} height={20} aria-hidden="true">
      <SeenMark as={as} x={10} y={10} r={6} />
    </svg>
  );
}
