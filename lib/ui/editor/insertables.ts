/** Everything that can be put into a page: blocks of prose and every registered widget. */
import type { Editor, Range } from '@tiptap/core';
import { newId } from '@/lib/notebook/ids';
import { menu } from '@/lib/widgets/menu';
import { insertPlace } from './insert-place';

export interface Insertable {
  id: string;
  title: string;
  about: string;
  words: readonly string[];
  /** Puts it where the range stood (the typed "/…"), or at the caret. */
  insert(editor: Editor, range?: Range): void;
}

const chainAt = (editor: Editor, range?: Range) => {
  const chain = editor.chain().focus();
  return range ? chain.deleteRange(range) : chain;
};

const widgets: Insertable[] = menu.map((d) => ({
  id: d.kind,
  title: d.title,
  about: d.about,
  words: d.words,
  insert: (editor, range) => {
    const id = newId();
    const content = [{ type: 'widget', attrs: { id, kind: d.kind } }, { type: 'paragraph' }];
    if (range) {
      chainAt(editor, range).insertContent(content).run();
      return;
    }
    // From the button nobody is typing: the caret stays out of it, so that no telephone opens its keyboard over what was added.
    editor.chain().insertContentAt(insertPlace(editor.state.doc, editor.state.selection), content, { updateSelection: false }).run();
    requestAnimationFrame(() => editor.view.dom.querySelector(`[data-widget="${id}"]`)?.scrollIntoView({ block: 'start' }));
  },
}));

const blocks: Insertable[] = [
  {
    id: 'heading',
    title: 'Heading',
    about: 'Starts a new entry',
    words: ['heading', 'entry'],
    insert: (e, r) => chainAt(e, r).setHeading({ level: 2 }).run(),
  },
  {
    id: 'subheading',
    title: 'Small heading',
    about: 'Within an entry',
    words: ['small', 'subheading'],
    insert: (e, r) => chainAt(e, r).setHeading({ level: 3 }).run(),
  },
  {
    id: 'list',
    title: 'List',
    about: 'With dots',
    words: ['list', 'dots', 'bullets'],
    insert: (e, r) => chainAt(e, r).toggleBulletList().run(),
  },
  {
    id: 'steps',
    title: 'Numbered list',
    about: 'In order',
    words: ['numbered', 'steps', 'order'],
    insert: (e, r) => chainAt(e, r).toggleOrderedList().run(),
  },
  {
    id: 'quote',
    title: 'Quote',
    about: 'What somebody said',
    words: ['quote', 'said'],
    insert: (e, r) => chainAt(e, r).toggleBlockquote().run(),
  },
  {
    id: 'rule',
    title: 'Line',
    about: 'Across the page',
    words: ['line', 'rule'],
    insert: (e, r) => chainAt(e, r).setHorizontalRule().run(),
  },
];

export const insertables = [...widgets, ...blocks];

/** Those whose title or words begin with what was typed; all of them for an empty query. */
export function matching(query: string): Insertable[] {
  const typed = query.trim().toLowerCase();
  return insertables.filter((i) =>
    [i.title.toLowerCase(), ...i.title.toLowerCase().split(' '), ...i.words].some((w) => w.startsWith(typed)),
  );
}
