/** What a document holds that this build's schema does not know. An editor that is bound to such a document deletes it, for everyone. */
import type { Schema } from '@tiptap/pm/model';
import type { DocNode } from './types';
import { nodesIn } from './walk';

/** The first thing in the document that the schema does not know, in words; null when it knows everything. */
export function unknownIn(doc: DocNode, schema: Schema): string | null {
  for (const { type, attrs, marks } of nodesIn(doc)) {
    const node = schema.nodes[type];
    if (!node) return `a block of the kind “${type}”`;
    const strange = Object.keys(attrs ?? {}).find((name) => !(name in (node.spec.attrs ?? {})));
    if (strange) return `“${strange}” of a block of the kind “${type}”`;
    for (const mark of marks ?? []) {
      const known = schema.marks[mark.type];
      if (!known) return `words marked as “${mark.type}”`;
      const odd = Object.keys(mark.attrs ?? {}).find((name) => !(name in (known.spec.attrs ?? {})));
      if (odd) return `“${odd}” of words marked as “${mark.type}”`;
    }
  }
  return null;
}
