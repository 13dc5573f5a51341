/** What differs between two states of a page: block by block, word by word, widget by widget. Pure. */
import { blockDifferences } from './differences/blocks';
import { sideOfRuns } from './differences/inline';
import type { BlockDifference } from './differences/types';
import type { DocNode, PageContent } from './types';
import { childrenOf } from './walk';

export { type Summary, summaryOf, summaryWords } from './differences/summary';
export type { BlockChange, BlockDifference, Line, Run, WordRun } from './differences/types';
export { widgetLines, widgetTitle } from './differences/widget-lines';

/** A page before its first word. */
export const noContent: PageContent = { doc: { type: 'doc', content: [] }, widgets: {} };

/** All blocks of both states in reading order, each with what became of it. */
export const pageDifferences = (before: PageContent, after: PageContent): BlockDifference[] =>
  blockDifferences(childrenOf(before.doc), childrenOf(after.doc), before.widgets, after.widgets);

/** True when nothing differs. */
export const isUnchanged = (differences: readonly BlockDifference[]): boolean => differences.every(({ change }) => change === 'same');

const absent = { before: ['added', 'moved-here'], after: ['removed', 'moved-away'] } as const;

/** The document of one side, put together again from the differences. */
export const sideOf = (differences: readonly BlockDifference[], side: 'before' | 'after'): DocNode => ({
  type: 'doc',
  content: blocksOf(differences, side),
});

function blocksOf(differences: readonly BlockDifference[], side: 'before' | 'after'): DocNode[] {
  return differences.flatMap(({ change, node, was, runs, blocks }): DocNode[] => {
    if ((absent[side] as readonly string[]).includes(change)) return [];
    if (change !== 'changed') return [node];
    const attrs = side === 'before' && was ? was : node.attrs;
    const content = runs ? sideOfRuns(runs, side === 'before' ? 'added' : 'removed') : blocks ? blocksOf(blocks, side) : childrenOf(node);
    return [{ type: node.type, ...(attrs && { attrs }), ...(content.length > 0 && { content }) }];
  });
}
