/** Random edits, and what a page looks like after them. */
import * as Y from 'yjs';
import { contentRoot, widgetRoot } from '@/lib/live/protocol';
import type { random } from './helpers';

/** One random edit of the text or of a widget. */
export function edit(doc: Y.Doc, r: ReturnType<typeof random>) {
  const root = doc.getXmlFragment(contentRoot);
  const paragraphs = root.toArray() as Y.XmlElement[];
  const widget = doc.getMap(widgetRoot(`w${r.below(3)}`));
  switch (r.below(6)) {
    case 0:
      return root.insert(r.below(root.length + 1), [new Y.XmlElement('paragraph')]);
    case 1:
      return root.length > 4 && root.delete(r.below(root.length), 1);
    case 2:
      return widget.set(`tick.${r.below(5)}`, r.below(1000));
    case 3:
      return widget.delete(`tick.${r.below(5)}`);
    default: {
      if (!paragraphs.length) return;
      const paragraph = r.pick(paragraphs);
      if (!paragraph.length) paragraph.insert(0, [new Y.XmlText()]);
      const text = paragraph.get(0) as Y.XmlText;
      if (text.length && r.below(3) === 0) text.delete(r.below(text.length), 1);
      else text.insert(r.below(text.length + 1), r.pick(['a', 'bc', 'Ω', '🔧']));
    }
  }
}

/** All that people see of a page, and its state vector. */
export const shape = (doc: Y.Doc) => ({
  content: doc.getXmlFragment(contentRoot).toString(),
  widgets: [0, 1, 2].map((n) => doc.getMap(widgetRoot(`w${n}`)).toJSON()),
  vector: Object.fromEntries(Y.decodeStateVector(Y.encodeStateVector(doc))),
});
