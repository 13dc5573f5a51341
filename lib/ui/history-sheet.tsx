/** A page with its differences shown: what changed with a little around it, the rest folded. */
import { Fragment } from 'react';
import type { BlockDifference } from '@/lib/notebook/differences';
import type { EvaluatedWidget } from '@/lib/notebook/types';
import { ChangedBlocks, SameBlock } from './history-block';

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
  return (
    <div className="history-sheet">
      {runsOf(differences).map(({ from, blocks }) => {
        const change = blocks[0]?.change ?? 'same';
        if (change !== 'same') return <ChangedBlocks key={from} change={change} differences={blocks} widgets={widgets} />;
        const first = from === 0 ? 0 : around;
        const last = from + blocks.length === differences.length ? blocks.length : blocks.length - around;
        const draw = (some: readonly BlockDifference[]) =>
          some.map((block, k) => <SameBlock key={k} node={block.node} widgets={widgets} />);
        if (whole || last - first < fewest) return <Fragment key={from}>{draw(blocks)}</Fragment>;
        return (
          <Fragment key={from}>
            {draw(blocks.slice(0, first))}
            <details className="fold">
              <summary>{last - first} blocks unchanged</summary>
              {draw(blocks.slice(first, last))}
            </details>
            {draw(blocks.slice(last))}
          </Fragment>
        );
      })}
    </div>
  );
}

/** Neighbours of one kind together; each block that changed or moved stands alone. */
function runsOf(differences: readonly BlockDifference[]): { from: number; blocks: BlockDifference[] }[] {
  const found: { from: number; blocks: BlockDifference[] }[] = [];
  differences.forEach((difference, from) => {
    const last = found.at(-1);
    const joins = difference.change === 'same' || difference.change === 'added' || difference.change === 'removed';
    if (joins && last?.blocks[0]?.change === difference.change) last.blocks.push(difference);
    else found.push({ from, blocks: [difference] });
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
