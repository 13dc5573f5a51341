/**
 * The document schema, shared by the editor and the server. No React here.
 *
 * An editor that does not know a node, a mark or a required attribute deletes it for everyone. So widgets are one generic node with two
 * attributes that have defaults, content is as loose as editing allows, and any change here goes with a new `schemaVersion`
 * (lib/live/protocol.ts).
 */
import { getSchema, Node } from '@tiptap/core';
import StarterKit from '@tiptap/starter-kit';
import { isAllowedUrl } from './links';

export const headingLevels = [1, 2, 3] as const;

/** A list item of any blocks: with a paragraph required first, merging two people's edits could make an item invalid, hence deleted. */
const LooseListItem = Node.create({
  name: 'listItem',
  content: 'block+',
  defining: true,
  parseHTML: () => [{ tag: 'li' }],
  renderHTML: ({ HTMLAttributes }) => ['li', HTMLAttributes, 0],
  addKeyboardShortcuts() {
    return {
      Enter: () => this.editor.commands.splitListItem(this.name),
      Tab: () => this.editor.commands.sinkListItem(this.name),
      'Shift-Tab': () => this.editor.commands.liftListItem(this.name),
    };
  },
});

/** Everything but widgets. The caller adds `WidgetNode` or its own extension of it. */
export const proseExtensions = [
  StarterKit.configure({
    undoRedo: false, // undo belongs to the shared document
    underline: false,
    strike: false,
    trailingNode: false, // would write into a page that is merely opened
    listItem: false, // ours below
    heading: { levels: [...headingLevels] },
    link: {
      isAllowedUri: isAllowedUrl,
      openOnClick: false,
      defaultProtocol: 'https',
      HTMLAttributes: { target: null, rel: 'noopener noreferrer nofollow', class: null },
    },
  }),
  LooseListItem,
];

/** Any widget of any kind. What its users chose lives in the document's map `widget:<id>`, never here. */
export const WidgetNode = Node.create({
  name: 'widget',
  group: 'block',
  atom: true,
  draggable: true,
  addAttributes() {
    return {
      id: {
        default: '',
        parseHTML: (element) => element.getAttribute('data-widget') ?? '',
        renderHTML: (attrs) => ({ 'data-widget': String(attrs.id) }),
      },
      kind: {
        default: '',
        parseHTML: (element) => element.getAttribute('data-kind') ?? '',
        renderHTML: (attrs) => ({ 'data-kind': String(attrs.kind) }),
      },
    };
  },
  parseHTML: () => [{ tag: 'div[data-widget]' }],
  renderHTML: ({ HTMLAttributes }) => ['div', HTMLAttributes],
});

export const schema = getSchema([...proseExtensions, WidgetNode]);
