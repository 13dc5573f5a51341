/** Differences block by block, and inside blocks that hold others. */
import type { WidgetState } from '@/lib/widgets/definition';
import type { DocNode } from '../types';
import { childrenOf, nodesIn, textOf } from '../walk';
import { align } from './align';
import { canonical } from './canonical';
import { inlineRuns } from './inline';
import { alike, isBlank, shared, wordsOf } from './tokens';
import type { BlockDifference } from './types';

type States = Readonly<Record<string, WidgetState>>;
const textBlocks = new Set(['paragraph', 'heading', 'codeBlock']);

/** A block with what is compared of it. */
interface Block {
  node: DocNode;
  key: string; // equal for what reads alike, widgets' states included
  moves: string; // equal for what is the same block elsewhere; empty when nobody would miss it
  widget: string; // its id, when it is one
  words: string[];
}

const widgetId = (node: DocNode): string => (node.type === 'widget' && typeof node.attrs?.id === 'string' ? node.attrs.id : '');
const stateIn = (states: States, id: string): WidgetState | null => (id !== '' && Object.hasOwn(states, id) ? (states[id] ?? null) : null);

/** Reading alike: neighbouring texts with the same marks count as one, and marks have no order. */
function likeKey(node: DocNode, states: States): string {
  const inside: string[] = [];
  let text = '';
  let textMarks: string | null = null;
  const settle = () => {
    if (textMarks !== null && text !== '') inside.push(`${JSON.stringify(text)}${textMarks}`);
    [text, textMarks] = ['', null];
  };
  for (const child of childrenOf(node)) {
    if (child.type === 'text') {
      const marks = canonical([...(child.marks ?? [])].map(canonical).sort());
      if (marks !== textMarks) settle();
      textMarks = marks;
      text += child.text ?? '';
    } else {
      settle();
      inside.push(likeKey(child, states));
    }
  }
  settle();
  const state = stateIn(states, widgetId(node));
  return `${node.type}${canonical(node.attrs ?? {})}(${inside.join()})${state ? canonical(state) : ''}`;
}

/** The words of a block, those of all its children apart from each other. */
const wordsIn = (node: DocNode): string[] =>
  textBlocks.has(node.type) ? wordsOf(textOf(node)) : childrenOf(node).flatMap((child) => wordsIn(child));

const says = (node: DocNode): boolean => !isBlank(textOf(node)) || [...nodesIn(node)].some(({ type }) => type === 'widget');

const blockOf =
  (states: States) =>
  (node: DocNode): Block => {
    const key = likeKey(node, states);
    const widget = widgetId(node);
    return { node, key, moves: widget === '' ? (says(node) ? key : '') : `widget ${widget}`, widget, words: wordsIn(node) };
  };

function likeness(before: Block, after: Block): number {
  if (before.node.type !== after.node.type) return 0;
  if (before.widget !== '' || after.widget !== '')
    return before.widget === after.widget && before.node.attrs?.kind === after.node.attrs?.kind ? 1 : 0;
  const share = shared(before.words, after.words);
  return share >= alike ? share : 0;
}

/** What differs between two lists of blocks. */
export function blockDifferences(
  before: readonly DocNode[],
  after: readonly DocNode[],
  statesBefore: States,
  statesAfter: States,
): BlockDifference[] {
  const [from, to] = [before.map(blockOf(statesBefore)), after.map(blockOf(statesAfter))];
  const pairs = align(
    from.map(({ key }) => key),
    to.map(({ key }) => key),
    (b, a) => likeness(from[b]!, to[a]!),
  );
  const moves = movesAmong(
    pairs.flatMap(({ before: b, after: a }) => (a === null && b !== null ? [from[b]!] : [])),
    pairs.flatMap(({ before: b, after: a }) => (b === null && a !== null ? [to[a]!] : [])),
  );
  return pairs.map(({ before: b, after: a, same }): BlockDifference => {
    const [old, now] = [b === null ? null : from[b]!, a === null ? null : to[a]!];
    if (old && now) return same ? { change: 'same', node: now.node } : changed(old, now, statesBefore, statesAfter);
    if (old) {
      const away = moves.has(old);
      return { change: away ? 'moved-away' : 'removed', node: old.node, ...widgetOf(old, statesBefore, away ? statesAfter : null) };
    }
    const here = moves.has(now!);
    return { change: here ? 'moved-here' : 'added', node: now!.node, ...widgetOf(now!, here ? statesBefore : null, statesAfter) };
  });
}

/** Blocks that went in one place and came in another, as pairs; each on both sides. */
function movesAmong(gone: Block[], come: Block[]): Set<Block> {
  const moved = new Set<Block>();
  const places = new Map<string, Block[]>();
  for (const block of come) if (block.moves !== '') places.set(block.moves, [...(places.get(block.moves) ?? []), block]);
  for (const block of gone) {
    const there = places.get(block.moves)?.shift();
    if (there) moved.add(block).add(there);
  }
  return moved;
}

function widgetOf({ widget, node }: Block, before: States | null, after: States | null): Pick<BlockDifference, 'widget'> {
  if (widget === '') return {};
  const side = (states: States | null) => (states ? (stateIn(states, widget) ?? {}) : null);
  return { widget: { id: widget, kind: String(node.attrs?.kind ?? ''), before: side(before), after: side(after) } };
}

function changed(old: Block, now: Block, statesBefore: States, statesAfter: States): BlockDifference {
  const attrs = canonical(old.node.attrs ?? {}) === canonical(now.node.attrs ?? {}) ? {} : { was: old.node.attrs ?? {} };
  const start = { change: 'changed' as const, node: now.node, ...attrs };
  if (now.widget !== '') return { ...start, ...widgetOf(now, statesBefore, statesAfter) };
  if (textBlocks.has(now.node.type)) return { ...start, runs: inlineRuns(childrenOf(old.node), childrenOf(now.node)) };
  return { ...start, blocks: blockDifferences(childrenOf(old.node), childrenOf(now.node), statesBefore, statesAfter) };
}
