/** Where a widget goes that was chosen from the add button: never before the page's title, never into the middle of a text. */
import type { Node } from '@tiptap/pm/model';
import type { Selection } from '@tiptap/pm/state';

interface Place {
  from: number;
  to: number;
}

const isBlank = (node: Node) => node.type.name === 'paragraph' && node.content.size === 0;
const isTitle = (node: Node) => node.type.name === 'heading' && node.attrs.level === 1;

/** In place of the blank paragraph that holds the caret, else after its block. With the caret in the title: the last blank of the page, else its end. */
export function insertPlace(doc: Node, { $from, to }: Selection): Place {
  const block = $from.depth > 0 ? $from.node(1) : null;
  if (!block) return { from: to, to };
  if (!isTitle(block)) {
    const after = $from.after(1);
    return { from: isBlank(block) ? $from.before(1) : after, to: after };
  }
  let place: Place = { from: doc.content.size, to: doc.content.size };
  doc.forEach((node, at) => {
    if (isBlank(node)) place = { from: at, to: at + node.nodeSize };
  });
  return place;
}
