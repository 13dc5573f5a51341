/** Markdown (CommonMark) as a page. HTML is not read as HTML: it stays literal text. */
import type { Code, Definition, Nodes, PhrasingContent, RootContent } from 'mdast';
import { fromMarkdown as parse } from 'mdast-util-from-markdown';
import type { WidgetState } from '@/lib/widgets/definition';
import { mendDuplicates } from '../duplicates';
import { newId } from '../ids';
import { isAllowedUrl } from '../links';
import type { DocNode, PageContent } from '../types';
import { tooMuch } from './limits';
import { normalContent } from './normal';
import { readBody, readInfo } from './widget-block';

export type MarkdownRead = { ok: true; content: PageContent; notices: string[] } | { ok: false; message: string; mend: string };

/** Reads a page. Each notice names a line, what could not be taken as written, and the mend. `fresh` gives ids to widgets without one. */
export function fromMarkdown(text: string, fresh: () => string = newId): MarkdownRead {
  const much = tooMuch(text);
  if (much) return { ok: false, ...much };
  const root = parse(text, { extensions: [{ disable: { null: ['htmlFlow', 'htmlText'] } }] });
  const reading = new Reading(fresh);
  reading.define(root);
  const blocks = root.children.flatMap((node) => reading.block(node));
  const read: PageContent = { doc: { type: 'doc', content: blocks }, widgets: reading.widgets };
  return { ok: true, content: normalContent(mendDuplicates(read, fresh)), notices: reading.notices };
}

type Marks = NonNullable<DocNode['marks']>;

class Reading {
  readonly widgets: Record<string, WidgetState> = {};
  readonly notices: string[] = [];
  private readonly definitions = new Map<string, Definition>();
  constructor(private readonly fresh: () => string) {}

  /** Notes where reference links lead; the first definition of a name counts. */
  define(node: Nodes) {
    if (node.type === 'definition' && !this.definitions.has(node.identifier)) this.definitions.set(node.identifier, node);
    if ('children' in node) for (const child of node.children) this.define(child);
  }

  block(node: RootContent): DocNode[] {
    switch (node.type) {
      case 'paragraph':
        return [{ type: 'paragraph', content: this.inline(node.children, []) }];
      case 'heading':
        if (node.depth > 3) this.notice(node, `a heading of level ${node.depth} became level 3`, 'use one to three # signs');
        return [{ type: 'heading', attrs: { level: Math.min(3, node.depth) }, content: this.inline(node.children, []) }];
      case 'blockquote':
        return [{ type: 'blockquote', content: node.children.flatMap((child) => this.block(child)) }];
      case 'list': {
        const content = node.children.map((item) => ({ type: 'listItem', content: item.children.flatMap((child) => this.block(child)) }));
        return [node.ordered ? { type: 'orderedList', attrs: { start: node.start ?? 1 }, content } : { type: 'bulletList', content }];
      }
      case 'code':
        return [this.code(node)];
      case 'thematicBreak':
        return [{ type: 'horizontalRule' }];
      default:
        return [];
    }
  }

  private code(node: Code): DocNode {
    const kept = (language: string | null): DocNode => ({
      type: 'codeBlock',
      attrs: { language },
      content: [{ type: 'text', text: node.value }],
    });
    if (node.lang !== 'widget' || !node.meta) return kept(node.lang ?? null);
    const written = `widget ${node.meta}`;
    const info = readInfo(node.meta);
    if (!info) {
      this.notice(
        node,
        `“${written}” names no widget, so it was kept as code`,
        'write widget, a kind and an id of letters, digits and hyphens',
      );
      return kept(written);
    }
    const body = readBody(node.value);
    if (!body.ok) {
      this.notice(node, `${body.message}, so the widget ${info.kind} was kept as code`, body.mend, body.line);
      return kept(written);
    }
    const id = info.id === null || Object.hasOwn(this.widgets, info.id) ? this.fresh() : info.id;
    if (info.id !== null && id !== info.id)
      this.notice(node, `the id ${info.id} stands twice, so this widget got the id ${id}`, 'give each widget an id of its own');
    this.widgets[id] = body.state;
    return { type: 'widget', attrs: { id, kind: info.kind } };
  }

  private inline(nodes: PhrasingContent[], marks: Marks): DocNode[] {
    return nodes.flatMap((node): DocNode[] => {
      switch (node.type) {
        case 'text':
          return [{ type: 'text', text: node.value, marks }];
        case 'inlineCode':
          if (marks.some((mark) => mark.type === 'link'))
            this.notice(node, `“${node.value}” is both code and a link; it was kept as a link`, 'take one of the two away');
          return [{ type: 'text', text: node.value, marks: [...marks, { type: 'code' }] }];
        case 'break':
          return [{ type: 'hardBreak' }];
        case 'strong':
          return this.inline(node.children, [...marks, { type: 'bold' }]);
        case 'emphasis':
          return this.inline(node.children, [...marks, { type: 'italic' }]);
        case 'link':
          return this.inline(node.children, this.linked(node, node.url, node.title, marks));
        case 'linkReference': {
          const to = this.definitions.get(node.identifier);
          return this.inline(node.children, to ? this.linked(node, to.url, to.title, marks) : marks);
        }
        case 'image':
        case 'imageReference': {
          const to = node.type === 'image' ? node : this.definitions.get(node.identifier);
          this.notice(node, 'a picture became a link to it', 'add the photo to the page itself');
          return to ? [{ type: 'text', text: node.alt || to.url, marks: this.linked(node, to.url, to.title, marks) }] : [];
        }
        default:
          return [];
      }
    });
  }

  private linked(at: Nodes, href: string, title: string | null | undefined, marks: Marks): Marks {
    if (isAllowedUrl(href)) return [...marks, { type: 'link', attrs: { href, ...(title && { title }) } }];
    this.notice(
      at,
      'a link was dropped, its words were kept',
      'link to an http, https, mailto or tel address, or to a page of this notebook',
    );
    return marks;
  }

  /** `within` counts lines below the node's first, for fenced bodies. */
  private notice(node: Nodes, what: string, mend: string, within = 0) {
    this.notices.push(`Line ${(node.position?.start.line ?? 1) + within}: ${what}. To mend: ${mend}.`);
  }
}
