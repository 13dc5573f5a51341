/** A stretch of work in one line: “+42 words, 3 ticks, photo”. */
import type { WidgetState } from '@/lib/widgets/definition';
import { textOf } from '../walk';
import { changedKeys, counterOf, number } from './telling';
import { wordsOf } from './tokens';
import type { BlockDifference } from './types';
import { widgetTitle } from './widget-lines';

export interface Summary {
  wordsIn: number;
  wordsOut: number;
  ticks: number; // what was signed with a name and a time
  unticked: number;
  counts: number; // what several people counted together; below 0 when more was taken back
  fields: Record<string, number>; // other changes, by the title of their widget
  widgetsIn: string[]; // titles
  widgetsOut: string[];
  moved: number;
  reshaped: number; // blocks whose words stayed: marks, levels, lines between
}

const nothing = (): Summary => ({
  wordsIn: 0,
  wordsOut: 0,
  ticks: 0,
  unticked: 0,
  counts: 0,
  fields: {},
  widgetsIn: [],
  widgetsOut: [],
  moved: 0,
  reshaped: 0,
});

export function summaryOf(differences: readonly BlockDifference[]): Summary {
  const summary = nothing();
  addBlocks(summary, differences);
  return summary;
}

function addBlocks(summary: Summary, differences: readonly BlockDifference[]) {
  for (const difference of differences) if (difference.change !== 'same') addBlock(summary, difference);
}

function addBlock(summary: Summary, { change, node, was, runs, blocks, widget }: BlockDifference) {
  if (change === 'moved-away') return;
  if (change === 'moved-here') summary.moved += 1;
  if (widget) {
    const { kind, before, after } = widget;
    if (change === 'added') summary.widgetsIn.push(widgetTitle(kind, after ?? {}));
    if (change === 'removed') summary.widgetsOut.push(widgetTitle(kind, before ?? {}));
    else addState(summary, change === 'added' ? null : widgetTitle(kind, {}), before ?? {}, after ?? {});
    return;
  }
  if (change === 'added') addWords(summary, 'wordsIn', node);
  else if (change === 'removed') addWords(summary, 'wordsOut', node);
  else if (change === 'changed') {
    const [wordsIn, wordsOut] = [runs ? countRuns(runs, 'added') : 0, runs ? countRuns(runs, 'removed') : 0];
    const onlyShape = runs !== undefined && sideText(runs, 'added') === sideText(runs, 'removed');
    if (onlyShape || was) summary.reshaped += 1;
    if (!onlyShape) {
      summary.wordsIn += wordsIn;
      summary.wordsOut += wordsOut;
    }
    addBlocks(summary, blocks ?? []);
  }
}

const isTick = (value: unknown) => typeof value === 'object' && value !== null && 'by' in value && 'at' in value;

/** Entries of a widget that is new are not counted beside it. */
function addState(summary: Summary, title: string | null, before: WidgetState, after: WidgetState) {
  for (const key of changedKeys(before, after)) {
    const [was, is] = [before[key], after[key]];
    if (counterOf(key, was, is) !== null) summary.counts += number(is) - number(was);
    else if (isTick(is)) summary.ticks += 1;
    else if (isTick(was)) summary.unticked += 1;
    else if (title !== null) summary.fields[title] = (summary.fields[title] ?? 0) + 1;
  }
}

/** Words of a block that came or went whole; a divider or an empty line counts as a change of shape. */
function addWords(summary: Summary, side: 'wordsIn' | 'wordsOut', node: BlockDifference['node']) {
  const count = wordCount(node);
  summary[side] += count;
  if (count === 0) summary.reshaped += 1;
}
const wordCount = (node: BlockDifference['node']): number =>
  node.content?.some((child) => child.type !== 'text' && child.type !== 'hardBreak')
    ? node.content.reduce((sum, child) => sum + wordCount(child), 0)
    : wordsOf(textOf(node)).length;

type Runs = NonNullable<BlockDifference['runs']>;
const countRuns = (runs: Runs, change: 'added' | 'removed') => {
  return runs.reduce((sum, run) => sum + (run.change === change ? wordsOf(textOf(run.node)).length : 0), 0);
};
const sideText = (runs: Runs, change: 'added' | 'removed') =>
  runs
    .filter((run) => run.change === 'same' || run.change === change)
    .map(({ node }) => textOf(node))
    .join('');

const many = (count: number, one: string, more = `${one}s`) => `${count} ${count === 1 ? one : more}`;
const lower = (title: string) => title.charAt(0).toLowerCase() + title.slice(1);

/** In words, the most telling first; “nothing that shows” when nothing differs. */
export function summaryWords(s: Summary): string {
  return (
    [
      s.wordsIn > 0 && `+${many(s.wordsIn, 'word')}`,
      s.wordsOut > 0 && `−${many(s.wordsOut, 'word')}`,
      s.ticks > 0 && many(s.ticks, 'tick'),
      s.unticked > 0 && `${many(s.unticked, 'tick')} taken off`,
      s.counts > 0 && many(s.counts, 'count'),
      s.counts < 0 && `${many(-s.counts, 'count')} taken back`,
      ...s.widgetsIn.map(lower),
      ...s.widgetsOut.map((title) => `${lower(title)} taken off`),
      ...Object.entries(s.fields).map(([title, count]) => `${many(count, 'entry', 'entries')} in ${lower(title)}`),
      s.moved > 0 && `${many(s.moved, 'block')} moved`,
      s.reshaped > 0 && `${many(s.reshaped, 'block')} laid out anew`,
    ]
      .filter(Boolean)
      .join(', ') || 'nothing that shows'
  );
}
