/** What a new page starts with. */
import { newId } from './ids';
import type { DocNode, PageContent } from './types';

const heading = (level: number, text: string): DocNode => ({
  type: 'heading',
  attrs: { level },
  ...(text !== '' && { content: [{ type: 'text', text }] }),
});
const empty: DocNode = { type: 'paragraph' };

/** A repair: the complaint to write down, a lookup, room for the story, the record. */
export function newRepair({ title, fresh = newId }: { title: string; fresh?: () => string }): PageContent {
  const [lookup, record] = [fresh(), fresh()];
  const widget = (id: string, kind: string): DocNode => ({ type: 'widget', attrs: { id, kind } });
  return {
    doc: {
      type: 'doc',
      content: [heading(1, title), heading(2, 'Complaint'), empty, widget(lookup, 'circuit-lookup'), empty, widget(record, 'fix-record')],
    },
    widgets: { [lookup]: {}, [record]: {} },
  };
}

/** A page of prose that belongs to no machine. */
export function newNote({ title }: { title: string }): PageContent {
  return { doc: { type: 'doc', content: [heading(1, title), empty] }, widgets: {} };
}
