/** Reading ProseMirror JSON. */
import type { DocNode } from './types';

/** Children of a node; none for a leaf. */
export const childrenOf = (node: DocNode): DocNode[] => node.content ?? [];

/** Every node in document order, the root first. */
export function* nodesIn(node: DocNode): Generator<DocNode> {
  yield node;
  for (const child of childrenOf(node)) yield* nodesIn(child);
}

/** The page's widgets in order. A node without an id or a kind is not one yet. */
export function widgetNodes(doc: DocNode): { id: string; kind: string }[] {
  const found: { id: string; kind: string }[] = [];
  for (const { type, attrs } of nodesIn(doc)) {
    if (type === 'widget' && typeof attrs?.id === 'string' && attrs.id !== '') found.push({ id: attrs.id, kind: String(attrs.kind ?? '') });
  }
  return found;
}

/** Text of one block, a hard break as a space. */
export function textOf(node: DocNode): string {
  if (node.type === 'text') return node.text ?? '';
  if (node.type === 'hardBreak') return ' ';
  return childrenOf(node).map(textOf).join('');
}
