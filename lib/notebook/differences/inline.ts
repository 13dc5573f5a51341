/** Differences inside a text: words put in and taken out, marks and hard breaks included. */
import type { DocNode } from '../types';
import { align } from './align';
import { canonical } from './canonical';
import { isBlank, tokensOf } from './tokens';
import type { Run, RunChange, WordRun } from './types';

interface Token {
  node: DocNode;
  key: string;
}
const marksOf = (node: DocNode): string => canonical([...(node.marks ?? [])].map(canonical).sort());

const tokensIn = (nodes: readonly DocNode[]): Token[] =>
  nodes.flatMap((node) => {
    if (node.type !== 'text') return [{ node, key: canonical(node) }];
    const marks = marksOf(node);
    return tokensOf(node.text ?? '').map((text) => ({ node: { ...node, text }, key: `${text}\n${marks}` }));
  });

/** What changed between the contents of two text blocks. */
export function inlineRuns(before: readonly DocNode[], after: readonly DocNode[]): Run[] {
  const [from, to] = [tokensIn(before), tokensIn(after)];
  const pairs = align(
    from.map(({ key }) => key),
    to.map(({ key }) => key),
    () => 0,
  );
  const runs = pairs.flatMap(({ before: b, after: a, same }): Run[] => {
    const node = (a === null ? from[b ?? -1] : to[a])?.node;
    return node ? [{ change: same ? 'same' : a === null ? 'removed' : 'added', node }] : [];
  });
  return joined(inOrder(widened(runs)));
}

/** A lone space between two changes belongs to both: “a dog” for “the cat” reads better than each word by itself. */
function widened(runs: Run[]): Run[] {
  return runs.flatMap((run, k) => {
    const lone =
      run.change === 'same' &&
      run.node.type === 'text' &&
      isBlank(run.node.text ?? '') &&
      runs[k - 1] !== undefined &&
      runs[k - 1]?.change !== 'same' &&
      runs[k + 1] !== undefined &&
      runs[k + 1]?.change !== 'same';
    return lone
      ? [
          { ...run, change: 'removed' as const },
          { ...run, change: 'added' as const },
        ]
      : [run];
  });
}

/** Within each stretch of changes, what was taken out stands first. */
function inOrder(runs: Run[]): Run[] {
  const ordered: Run[] = [];
  let [out, put]: [Run[], Run[]] = [[], []];
  const settle = () => {
    ordered.push(...out, ...put);
    [out, put] = [[], []];
  };
  for (const run of runs) {
    if (run.change === 'removed') out.push(run);
    else if (run.change === 'added') put.push(run);
    else {
      settle();
      ordered.push(run);
    }
  }
  settle();
  return ordered;
}

/** Neighbours of one kind and with the same marks as one. */
function joined(runs: Run[]): Run[] {
  const whole: Run[] = [];
  for (const run of runs) {
    const last = whole.at(-1);
    if (
      last &&
      last.change === run.change &&
      last.node.type === 'text' &&
      run.node.type === 'text' &&
      marksOf(last.node) === marksOf(run.node)
    )
      last.node = { ...last.node, text: `${last.node.text ?? ''}${run.node.text ?? ''}` };
    else whole.push({ ...run });
  }
  return whole;
}

/** The same for plain text. */
export const wordRuns = (before: string, after: string): WordRun[] =>
  inlineRuns(plain(before), plain(after)).map(({ change, node }): WordRun => ({ change, text: node.text ?? '' }));

const plain = (text: string): DocNode[] => (text === '' ? [] : [{ type: 'text', text }]);

/** The nodes of one side. */
export const sideOfRuns = (runs: readonly Run[], other: RunChange): DocNode[] =>
  runs.filter(({ change }) => change !== other).map(({ node }) => node);
