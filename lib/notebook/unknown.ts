/** What a document holds that this build's schema does not know. An editor that is bound to such a document deletes it, for everyone. */
import type { Attrs, Schema } from '@tiptap/pm/model';
import * as Y from 'yjs';
import { markName } from './schema';

/** The first thing below the root that the schema does not know, in words; null when it knows everything. */
export function unknownIn(root: Y.XmlFragment, schema: Schema): string | null {
  const left: unknown[] = root.toArray();
  for (let item = left.pop(); item !== undefined; item = left.pop()) {
    if (item instanceof Y.XmlText) {
      for (const { insert, attributes } of item.toDelta() as { insert: unknown; attributes?: Record<string, unknown> }[]) {
        if (typeof insert !== 'string') return among;
        for (const [key, attrs] of Object.entries(attributes ?? {})) {
          const strange = strangeMark(key, attrs, schema);
          if (strange) return strange;
        }
      }
    } else if (item instanceof Y.XmlElement && !(item instanceof Y.XmlHook)) {
      const { nodeName } = item;
      const strange = strangeNode(nodeName, schema) ?? strangeAttrs(nodeName, Object.keys(item.getAttributes()), schema);
      if (strange) return strange;
      left.push(...item.toArray());
    } else return among;
  }
  return null;
}

/**
 * The first thing in an update (V1) that the schema does not know, in words; null when it knows everything. `doc` is the document that
 * the update is meant for, before it is applied: afterwards a bound editor would have deleted what it does not know.
 */
export function unknownInUpdate(update: Uint8Array, doc: Y.Doc, schema: Schema): string | null {
  const made = new Map<string, string>(); // id → name of an element that the update brings
  const attributes: { parent: Y.ID; name: string }[] = [];
  for (const struct of Y.decodeUpdate(update).structs) {
    if (!(struct instanceof Y.Item)) continue;
    const { content, parent, parentSub } = struct;
    if (content instanceof Y.ContentFormat) {
      const strange = content.value === null ? null : strangeMark(content.key, content.value, schema);
      if (strange) return strange;
    } else if (content instanceof Y.ContentEmbed) return among;
    else if (content instanceof Y.ContentType && content.type instanceof Y.XmlHook) return among;
    else if (content instanceof Y.ContentType && content.type instanceof Y.XmlElement) {
      const strange = strangeNode(content.type.nodeName, schema);
      if (strange) return strange;
      made.set(keyOf(struct.id), content.type.nodeName);
    }
    // A name that stands there already is not written again, and is known.
    if (parentSub !== null && parent instanceof Y.ID) attributes.push({ parent, name: parentSub });
  }
  for (const { parent, name } of attributes) {
    const node = made.get(keyOf(parent)) ?? nameInDoc(doc, parent);
    const strange = node === undefined ? null : strangeAttrs(node, [name], schema);
    if (strange) return strange;
  }
  return null;
}

const among = 'something among its words';
const keyOf = ({ client, clock }: Y.ID) => `${client}:${clock}`;
const has = (attrs: Attrs | undefined, name: string) => Object.hasOwn(attrs ?? {}, name);

const strangeNode = (name: string, schema: Schema) => (Object.hasOwn(schema.nodes, name) ? null : `a block of the kind “${name}”`);

function strangeAttrs(node: string, names: string[], schema: Schema): string | null {
  const strange = names.find((name) => !has(schema.nodes[node]?.spec.attrs, name));
  return strange === undefined ? null : `“${strange}” of a block of the kind “${node}”`;
}

function strangeMark(key: string, attrs: unknown, schema: Schema): string | null {
  const name = markName(key);
  if (!Object.hasOwn(schema.marks, name)) return `words marked as “${name}”`;
  const names = typeof attrs === 'object' && attrs !== null ? Object.keys(attrs) : [];
  const strange = names.find((each) => !has(schema.marks[name]?.spec.attrs, each));
  return strange === undefined ? null : `“${strange}” of words marked as “${name}”`;
}

/** Name of the element with this id; undefined when it is none, or not there. */
function nameInDoc(doc: Y.Doc, id: Y.ID): string | undefined {
  if (Y.getState(doc.store, id.client) <= id.clock) return undefined;
  const item = Y.getItem(doc.store, id);
  const type = item instanceof Y.Item && item.content instanceof Y.ContentType ? item.content.type : null;
  return type instanceof Y.XmlElement ? type.nodeName : undefined;
}
