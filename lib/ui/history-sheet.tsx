/** A page with its differences shown: what changed with a little around it, the rest folded. */
import type { ReactNode } from 'react';
import type { BlockDifference } from '@/lib/notebook/differences';
import type { EvaluatedWidget } from '@/lib/notebook/types';
import { DifferenceBlock } from './history-block';

const around = 1; // unchanged blocks that stay on either side of a change
const fewest = 3; // fewer than these are not worth folding

export interface SheetProps {
  differences: readonly BlockDifference[];
  /** The widgets of the later side, computed. */
  widgets: ReadonlyMap<string, EvaluatedWidget>;
  /** Nothing is folded. */
  whole?: boolean;
}

export function HistorySheet({ differences, widgets, whole }: SheetProps) {
  const draw = (from: number, to: number): ReactNode[] =>
    differences.slice(from, to).map((difference, k) => <DifferenceBlock key={from + k} difference={difference} widgets={widgets} />);
  return (
    <div className="history-sheet">
      {stretchesOf(differences).map(({ from, to, same }) => {
        const first = from === 0 ? from : from + around;
        const last = to === differences.length ? to : to - around;
        if (!same || whole || last - first < fewest) return draw(from, to);
        return [
          ...draw(from, first),
          <details key={`fold ${first}`} className="fold">
            <summary>{last - first} blocks unchanged</summary>
            {draw(first, last)}
          </details>,
          ...draw(last, to),
        ];
      })}
    </div>
  );
}

/** Neighbours that changed, and neighbours that did not. */
function stretchesOf(differences: readonly BlockDifference[]): { from: number; to: number; same: boolean }[] {
  const found: { from: number; to: number; same: boolean }[] = [];
  differences.forEach(({ change }, k) => {
    const same = change === 'same';
    const last = found.at(-1);
    if (last?.same === same) last.to = k + 1;
    else found.push({ from: k, to: k + 1, same });
  });
  return found;
}

/** What the signs mean. */
export function Legend() {
  return (
    <p className="legend">
      <ins>put in</ins>
      <del>taken out</del>
      <span>Blocks that came, went or moved say so in their margin.</span>
    </p>
  );
}
