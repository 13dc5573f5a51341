/** Page content in and out of its shared document. */
import { updateYFragment } from '@tiptap/y-tiptap';
import * as Y from 'yjs';
import { contentRoot, widgetRoot } from '@/lib/live/protocol';
import type { WidgetState } from '@/lib/widgets/definition';
import { mendDuplicates } from './duplicates';
import { markName, schema } from './schema';
import type { DocNode, PageContent } from './types';
import { unknownIn } from './unknown';
import { widgetNodes } from './walk';

/** What a page's document says. State of widgets that are no longer on the page is left out; nothing is changed. */
export function contentOf(doc: Y.Doc): PageContent {
  const children = doc
    .getXmlFragment(contentRoot)
    .toArray()
    .flatMap((item) => nodesOf(item, 1));
  const page: DocNode = { type: 'doc', content: children.length > 0 ? children : [{ type: 'paragraph' }] };
  const widgets: Record<string, WidgetState> = {};
  for (const { id } of widgetNodes(page)) widgets[id] = stateOf(doc, id);
  return { doc: page, widgets };
}

/** The document holds what this build does not know: what is read of it is not all of it, so writing over it would lose the rest. */
export class NewerDocument extends Error {
  constructor(what: string) {
    super(`This page holds ${what}, which this version of Fettlebook does not know. Change it with the version that wrote it.`);
  }
}

/**
 * Makes the document equal to the content in one transaction that touches only what differs, so that it merges with what others do
 * meanwhile. Throws RangeError when the content does not fit the schema (check what comes from outside with `checkContent` first), and
 * NewerDocument when the document does not.
 */
export function writeContent(doc: Y.Doc, content: PageContent, origin: unknown = null): void {
  const mended = mendDuplicates(content);
  const root = schema.nodeFromJSON(mended.doc);
  root.check();
  doc.transact(() => {
    const before = doc.getXmlFragment(contentRoot);
    const strange = unknownIn(before, schema);
    if (strange !== null) throw new NewerDocument(strange);
    updateYFragment(doc, before, root, { mapping: new Map(), isOMark: new Map() });
    for (const { id } of widgetNodes(mended.doc)) writeState(doc.getMap(widgetRoot(id)), mended.widgets[id] ?? {});
  }, origin);
}

/** The first update of a new page. */
export function newPageDoc(content: PageContent): Uint8Array {
  const doc = new Y.Doc();
  writeContent(doc, content);
  const update = Y.encodeStateAsUpdate(doc);
  doc.destroy();
  return update;
}

function stateOf(doc: Y.Doc, id: string): WidgetState {
  const state: Record<string, unknown> = {};
  for (const [key, value] of doc.getMap(widgetRoot(id)).entries()) {
    if (key === '__proto__') continue; // documents come from untrusted peers
    state[key] = value instanceof Y.AbstractType ? value.toJSON() : value;
  }
  return state;
}

function writeState(map: Y.Map<unknown>, state: WidgetState) {
  for (const key of [...map.keys()]) if (!Object.hasOwn(state, key)) map.delete(key);
  for (const [key, value] of Object.entries(state)) if (!map.has(key) || !sameJson(map.get(key), value)) map.set(key, value);
}

/** Equal as JSON, whatever the order of keys. */
function sameJson(a: unknown, b: unknown): boolean {
  if (a === b) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null || Array.isArray(a) !== Array.isArray(b)) return false;
  const [left, right] = [a as Record<string, unknown>, b as Record<string, unknown>];
  const keys = Object.keys(left);
  return keys.length === Object.keys(right).length && keys.every((key) => Object.hasOwn(right, key) && sameJson(left[key], right[key]));
}

const deepest = 100; // levels of nesting that are read; nobody writes more, and a stack has an end

/** ProseMirror JSON of one shared element. Anything that our editor never writes (embeds, hooks) is passed over, not thrown at. */
function nodesOf(item: unknown, depth: number): DocNode[] {
  if (item instanceof Y.XmlText) {
    const pieces = item.toDelta() as { insert: unknown; attributes?: Record<string, unknown> }[];
    return pieces.flatMap(({ insert, attributes }) => {
      if (typeof insert !== 'string' || insert === '') return [];
      const marks = Object.entries(attributes ?? {}).map(([key, attrs]) => ({ type: markName(key), attrs: plainAttrs(attrs) }));
      return [{ type: 'text', text: insert, ...(marks.length > 0 && { marks }) }];
    });
  }
  if (!(item instanceof Y.XmlElement) || item instanceof Y.XmlHook) return [];
  const attrs = plainAttrs(item.getAttributes());
  const content = depth < deepest ? item.toArray().flatMap((child) => nodesOf(child, depth + 1)) : [];
  return [{ type: item.nodeName, ...(Object.keys(attrs).length > 0 && { attrs }), ...(content.length > 0 && { content }) }];
}

const plainAttrs = (value: unknown): Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value) ? { ...value } : {};
