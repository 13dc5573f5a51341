/**
 * Normal form: what of a page CommonMark can say, said in one way. `fromMarkdown(toMarkdown(content))` gives exactly this.
 *
 * Left out: empty paragraphs, white space at the ends of a block, hard breaks at its ends and in headings, marks on code, emphasis on bare
 * white space, links to addresses that are not allowed, control characters.
 */
import { isId, isKind } from '../ids';
import { isAllowedUrl } from '../links';
import type { DocNode, PageContent } from '../types';
import { childrenOf, textOf, widgetNodes } from '../walk';

type Mark = NonNullable<DocNode['marks']>[number];

/** The content in normal form; states of widgets that are not in the document are left out. */
export function normalContent(content: PageContent): PageContent {
  const doc: DocNode = { type: 'doc', content: orEmpty(childrenOf(content.doc).flatMap(block)) };
  return { doc, widgets: Object.fromEntries(widgetNodes(doc).map(({ id }) => [id, content.widgets[id] ?? {}])) };
}

const orEmpty = (blocks: DocNode[]): DocNode[] => (blocks.length > 0 ? blocks : [{ type: 'paragraph' }]);
const whole = (value: unknown, least: number, most: number, other: number) =>
  typeof value === 'number' && Number.isInteger(value) && value >= least && value <= most ? value : other;

function block(node: DocNode): DocNode[] {
  switch (node.type) {
    case 'paragraph': {
      const content = inline(childrenOf(node));
      return content.length > 0 ? [{ type: 'paragraph', content }] : [];
    }
    case 'heading': {
      const content = inline(childrenOf(node).map((child) => (child.type === 'hardBreak' ? { type: 'text', text: ' ' } : child)));
      return [{ type: 'heading', attrs: { level: whole(node.attrs?.level, 1, 3, 3) }, ...(content.length > 0 && { content }) }];
    }
    case 'blockquote':
      return [{ type: 'blockquote', content: orEmpty(childrenOf(node).flatMap(block)) }];
    case 'bulletList':
    case 'orderedList': {
      const content = childrenOf(node).map((item) => ({ type: 'listItem', content: orEmpty(childrenOf(item).flatMap(block)) }));
      // CommonMark numbers have nine digits at most, the last item's too.
      const attrs = node.type === 'orderedList' ? { attrs: { start: whole(node.attrs?.start, 0, 1e9 - content.length, 1) } } : {};
      return content.length > 0 ? [{ type: node.type, ...attrs, content }] : [];
    }
    case 'codeBlock': {
      const text = cleanCode(childrenOf(node).map(textOf).join(''));
      const language = clean(String(node.attrs?.language ?? '')).trim();
      return [
        { type: 'codeBlock', ...(language !== '' && { attrs: { language } }), ...(text !== '' && { content: [{ type: 'text', text }] }) },
      ];
    }
    case 'horizontalRule':
      return [{ type: 'horizontalRule' }];
    case 'widget':
      return isId(node.attrs?.id) && isKind(node.attrs.kind)
        ? [{ type: 'widget', attrs: { id: node.attrs.id, kind: node.attrs.kind } }]
        : [];
    case 'text':
    case 'hardBreak':
      return block({ type: 'paragraph', content: [node] });
    default:
      return childrenOf(node).flatMap(block);
  }
}

// biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is left out
const control = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\ufdd0-\ufdef\ufeff\ufffe\uffff]/g;
const loneSurrogate = /[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;
const cleanCode = (text: string) => text.replace(/\r\n?/g, '\n').replace(control, '').replace(loneSurrogate, '\ufffd');
const clean = (text: string) => cleanCode(text).replace(/[\t\n ]*\n[\t\n ]*/g, ' ');

function inline(nodes: DocNode[]): DocNode[] {
  const pieces = nodes.flatMap((node): DocNode[] => {
    if (node.type === 'hardBreak') return [{ type: 'hardBreak' }];
    const text = clean(textOf(node));
    return text === '' ? [] : [{ type: 'text', text, marks: marksOf(node.marks ?? []) }];
  });
  const unspaced = (['bold', 'italic'] as const).reduce((all, type) => expelSpace(all, type), pieces);
  return joined(trimmed(joined(unspaced))).map((piece) => (piece.marks?.length === 0 ? { type: piece.type, text: piece.text } : piece));
}

/** In the schema's order. Code stands alone, but a link is worth more than its typeface. */
function marksOf(marks: Mark[]): Mark[] {
  const has = (type: string) => marks.some((mark) => mark.type === type);
  const link = marks.find((mark) => mark.type === 'link' && isAllowedUrl(mark.attrs?.href));
  const title = typeof link?.attrs?.title === 'string' ? clean(link.attrs.title).trim() : '';
  if (has('code') && !link) return [{ type: 'code' }];
  return [
    ...(link ? [{ type: 'link', attrs: { href: link.attrs?.href, ...(title !== '' && { title }) } }] : []),
    ...(has('bold') ? [{ type: 'bold' }] : []),
    ...(has('italic') ? [{ type: 'italic' }] : []),
  ];
}

const hasMark = (node: DocNode | undefined, type: string) => node?.marks?.some((mark) => mark.type === type) ?? false;
const sameMarks = (a: DocNode, b: DocNode) => JSON.stringify(a.marks) === JSON.stringify(b.marks);

/** Takes a mark off the white space at the ends of each run that carries it: Markdown cannot emphasise it. */
function expelSpace(nodes: DocNode[], type: string): DocNode[] {
  const without = (node: DocNode, text: string): DocNode => ({ ...node, text, marks: node.marks?.filter((mark) => mark.type !== type) });
  const result: DocNode[] = [];
  for (let start = 0; start < nodes.length; ) {
    let end = start;
    while (hasMark(nodes[end], type)) end++;
    const run = nodes.slice(start, end);
    const [before, after]: [DocNode[], DocNode[]] = [[], []];
    while (run[0] && /^\s*$/.test(run[0].text ?? '')) before.push(without(run[0], run.shift()?.text ?? ''));
    while (run.length > 0 && /^\s*$/.test(run.at(-1)?.text ?? '')) {
      const last = run.pop() as DocNode;
      after.unshift(without(last, last.text ?? ''));
    }
    const [first, last] = [run[0], run.at(-1)];
    if (first && last) {
      const lead = /^\s*/.exec(first.text ?? '')?.[0] ?? '';
      if (lead !== '') {
        before.push(without(first, lead));
        run[0] = { ...first, text: first.text?.slice(lead.length) };
      }
      const tail = run.at(-1) as DocNode;
      const trail = /\s*$/.exec(tail.text ?? '')?.[0] ?? '';
      if (trail !== '') {
        after.unshift(without(tail, trail));
        run[run.length - 1] = { ...tail, text: tail.text?.slice(0, -trail.length) };
      }
    }
    result.push(...before, ...run, ...after);
    const next = nodes[end];
    if (next) result.push(next);
    start = end + 1;
  }
  return result;
}

/** Neighbours of equal marks become one. */
function joined(nodes: DocNode[]): DocNode[] {
  const result: DocNode[] = [];
  for (const node of nodes) {
    const last = result.at(-1);
    if (last && last.type === 'text' && node.type === 'text' && sameMarks(last, node))
      result[result.length - 1] = { ...last, text: `${last.text}${node.text}` };
    else result.push(node);
  }
  return result;
}

/** Without white space at the ends of each line, and without breaks at the ends of the block. */
function trimmed(nodes: DocNode[]): DocNode[] {
  const lines: DocNode[][] = [[]];
  for (const node of nodes) {
    if (node.type === 'hardBreak') lines.push([]);
    else lines.at(-1)?.push(node);
  }
  const trim = (line: DocNode[]): DocNode[] => {
    const rest = [...line];
    const cut = (at: 0 | -1, end: RegExp) => {
      for (;;) {
        const node = rest.at(at);
        if (!node || hasMark(node, 'code')) return;
        const text = node.text?.replace(end, '') ?? '';
        if (text !== '') {
          rest[at === 0 ? 0 : rest.length - 1] = { ...node, text };
          return;
        }
        if (at === 0) rest.shift();
        else rest.pop();
      }
    };
    cut(0, /^[ \t]+/);
    cut(-1, /[ \t]+$/);
    return rest;
  };
  const clear = lines.map(trim);
  while (clear.at(-1)?.length === 0) clear.pop();
  while (clear[0]?.length === 0) clear.shift();
  return clear.flatMap((line, index) => (index === 0 ? line : [{ type: 'hardBreak' }, ...line]));
}
