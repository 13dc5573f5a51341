/** A page as Markdown (CommonMark). */
import type { BlockContent, Code, List, ListItem, PhrasingContent, Root, RootContent, Text } from 'mdast';
import { type Join, type Options, toMarkdown as print } from 'mdast-util-to-markdown';
import type { WidgetState } from '@/lib/widgets/definition';
import type { DocNode, PageContent } from '../types';
import { childrenOf, textOf } from '../walk';
import { normalContent } from './normal';
import { writeBody } from './widget-block';

/** The page as text that `fromMarkdown` reads back to the same content in normal form. */
export function toMarkdown(content: PageContent): string {
  const { doc, widgets } = normalContent(content);
  const root: Root = { type: 'root', children: childrenOf(doc).flatMap((node) => blockOf(node, widgets)) };
  return print(root, {
    bullet: '-',
    bulletOther: '+',
    emphasis: '_',
    fences: true,
    rule: '_',
    listItemIndent: 'one',
    join: [apart],
    handlers: { text },
  });
}

/**
 * A character at the edge of emphasis may be written as a reference, after which an underscore beside it is no longer inside a word. The
 * printer minds that for characters of one code unit only, so beside a pair every underscore is escaped here.
 */
const text: NonNullable<Options['handlers']>['text'] = (node: Text, _parent, state, info) => {
  const escaped = (run: string) => run.replaceAll('_', '\\_');
  const safe = state.safe(node.value, info);
  return safe
    .replace(/(?<![\\_])_+(?=[\ud800-\udbff][\udc00-\udfff]$)/, escaped)
    .replace(/(?<=^[\ud800-\udbff][\udc00-\udfff])_+/, escaped);
};

const opensWithWords = (list: List) => list.children[0]?.children[0]?.type === 'paragraph';

/** A blank line between any two blocks, for what stands tight can be misread; not between items, nor before a plain list under its paragraph. */
const apart: Join = (left, right) =>
  left.type === 'listItem' || (left.type === 'paragraph' && right.type === 'list' && opensWithWords(right)) ? undefined : 1;

type Widgets = Record<string, WidgetState>;
const blocksOf = (node: DocNode, widgets: Widgets): BlockContent[] => childrenOf(node).flatMap((child) => blockOf(child, widgets));

function blockOf(node: DocNode, widgets: Widgets): (RootContent & BlockContent)[] {
  switch (node.type) {
    case 'paragraph':
      return node.content ? [{ type: 'paragraph', children: inlineOf(childrenOf(node)) }] : [];
    case 'heading':
      return [{ type: 'heading', depth: node.attrs?.level as 1 | 2 | 3, children: inlineOf(childrenOf(node)) }];
    case 'blockquote':
      return [{ type: 'blockquote', children: blocksOf(node, widgets) }];
    case 'bulletList':
    case 'orderedList': {
      const children = childrenOf(node).map((item): ListItem => ({ type: 'listItem', spread: false, children: blocksOf(item, widgets) }));
      return [
        {
          type: 'list',
          spread: false,
          children,
          ...(node.type === 'orderedList' ? { ordered: true, start: node.attrs?.start as number } : { ordered: false }),
        },
      ];
    }
    case 'codeBlock':
      return [{ type: 'code', lang: (node.attrs?.language as string | undefined) ?? null, value: textOf(node) }];
    case 'horizontalRule':
      return [{ type: 'thematicBreak' }];
    case 'widget': {
      const { id, kind } = node.attrs as { id: string; kind: string };
      const fence: Code = { type: 'code', lang: 'widget', meta: `${kind} ${id}`, value: writeBody(widgets[id] ?? {}) };
      return [fence];
    }
    default:
      throw new Error(`normal form has no ${node.type}`);
  }
}

const wraps = ['link', 'bold', 'italic'] as const;

/** Nests marks: a link outermost, then bold, then italic; neighbours that share a mark share its node. */
function inlineOf(nodes: DocNode[], level = 0): PhrasingContent[] {
  const wrap = wraps[level];
  if (wrap === undefined) return nodes.map(leafOf);
  const key = (node: DocNode | undefined) => {
    const mark = node?.marks?.find((m) => m.type === wrap);
    return mark ? JSON.stringify(mark) : '';
  };
  const result: PhrasingContent[] = [];
  for (let start = 0; start < nodes.length; ) {
    let end = start + 1;
    while (end < nodes.length && key(nodes[end]) === key(nodes[start])) end++;
    const children = inlineOf(nodes.slice(start, end), level + 1);
    const mark = nodes[start]?.marks?.find((m) => m.type === wrap);
    if (!mark) result.push(...children);
    else if (wrap === 'link')
      result.push({
        type: 'link',
        url: String(mark.attrs?.href),
        title: (mark.attrs?.title as string | undefined) ?? null,
        children,
      } as PhrasingContent);
    else result.push({ type: wrap === 'bold' ? 'strong' : 'emphasis', children });
    start = end;
  }
  return result;
}

function leafOf(node: DocNode): PhrasingContent {
  if (node.type === 'hardBreak') return { type: 'break' };
  return node.marks?.some((mark) => mark.type === 'code')
    ? { type: 'inlineCode', value: node.text ?? '' }
    : { type: 'text', value: node.text ?? '' };
}
