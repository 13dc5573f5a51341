/** Two widgets with one id would share one state by mistake. */
import { newId } from './ids';
import type { DocNode, PageContent } from './types';

/** The content with every widget under an id of its own: a later one of the same id gets a fresh id and a copy of the state. */
export function mendDuplicates(content: PageContent, fresh: () => string = newId): PageContent {
  const seen = new Set<string>();
  const widgets = { ...content.widgets };
  const mend = (node: DocNode): DocNode => {
    if (node.type === 'widget') {
      const id = String(node.attrs?.id ?? '');
      if (id !== '' && !seen.has(id)) {
        seen.add(id);
        return node;
      }
      const own = fresh();
      seen.add(own);
      widgets[own] = { ...widgets[id] };
      return { ...node, attrs: { ...node.attrs, id: own } };
    }
    return node.content ? { ...node, content: node.content.map(mend) } : node;
  };
  return { doc: mend(content.doc), widgets };
}
