/**
 * The document schema, shared by the editor and the server. No React here.
 *
 * An editor that does not know a node, a mark or a required attribute deletes it for everyone. So widgets are one generic node with two
 * attributes that have defaults, content is as loose as editing allows, and any change here goes with a new `schemaVersion`
 * (lib/live/protocol.ts).
 */
import { getSchema, InputRule, Mark, markPasteRule, Node } from '@tiptap/core';
import { Blockquote } from '@tiptap/extension-blockquote';
import { Bold } from '@tiptap/extension-bold';
import { Code } from '@tiptap/extension-code';
import { CodeBlock } from '@tiptap/extension-code-block';
import { Document } from '@tiptap/extension-document';
import { HardBreak } from '@tiptap/extension-hard-break';
import { Heading } from '@tiptap/extension-heading';
import { HorizontalRule } from '@tiptap/extension-horizontal-rule';
import { Italic } from '@tiptap/extension-italic';
import { BulletList, ListKeymap, OrderedList } from '@tiptap/extension-list';
import { Paragraph } from '@tiptap/extension-paragraph';
import { Text } from '@tiptap/extension-text';
import { Dropcursor } from '@tiptap/extensions/drop-cursor';
import { Gapcursor } from '@tiptap/extensions/gap-cursor';
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

const typedAddress = /(?:^|\s)(https?:\/\/[^\s<>"]+)\s$/;
const pastedAddress = /https?:\/\/[^\s<>"]+/g;

/** A link to an allowed address. Typing or pasting a web address makes one. */
const Link = Mark.create({
  name: 'link',
  inclusive: false,
  exitable: true,
  addAttributes: () => ({ href: { default: null }, title: { default: null } }),
  parseHTML: () => [{ tag: 'a[href]', getAttrs: (element) => (isAllowedUrl(element.getAttribute('href')) ? null : false) }],
  renderHTML: ({ HTMLAttributes: { href, ...rest } }) => [
    'a',
    { ...rest, rel: 'noopener noreferrer nofollow', ...(isAllowedUrl(href) ? { href } : {}) },
    0,
  ],
  addInputRules() {
    return [
      new InputRule({
        find: typedAddress,
        handler: ({ state, range, match }) => {
          const href = match[1] ?? '';
          const from = range.from + match[0].indexOf(href);
          state.tr
            .insertText(match[0].slice(-1), range.to)
            .addMark(from, from + href.length, this.type.create({ href }))
            .removeStoredMark(this.type);
        },
      }),
    ];
  },
  addPasteRules() {
    return [
      markPasteRule({
        find: pastedAddress,
        type: this.type,
        getAttributes: (match) => (isAllowedUrl(match[0]) ? { href: match[0] } : false),
      }),
    ];
  },
});

/** Everything but widgets. The caller adds `WidgetNode` or its own extension of it. Undo belongs to the shared document. */
export const proseExtensions = [
  Document,
  Paragraph,
  Text,
  Heading.configure({ levels: [...headingLevels] }),
  BulletList,
  OrderedList,
  LooseListItem,
  ListKeymap,
  Blockquote,
  CodeBlock,
  HorizontalRule,
  HardBreak,
  Bold,
  Italic,
  Code,
  Link,
  Dropcursor,
  Gapcursor,
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

/** The binding stores a mark that may overlap itself as `name--hash`. */
export const markName = (key: string) => key.replace(/--[a-zA-Z0-9+/=]{8}$/, '');
