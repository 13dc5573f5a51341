/** Words of a page. */
import type { DocNode } from './types';
import { childrenOf, nodesIn, textOf } from './walk';

const textBlocks = new Set(['paragraph', 'heading', 'codeBlock']);
const squeeze = (text: string) => text.replace(/\s+/g, ' ').trim();

/** Plain text of the prose, one line a block, in page order; what is inside widgets is not prose. */
export const plainText = (doc: DocNode): string => lines(doc, (type) => textBlocks.has(type)).join('\n');

/** The same without headings and without the line that is the page's title. */
export function bodyText(doc: DocNode): string {
  const body = lines(doc, (type) => textBlocks.has(type) && type !== 'heading');
  return (body[0] === titleOf(doc) ? body.slice(1) : body).join('\n');
}

function lines(doc: DocNode, shown: (type: string) => boolean): string[] {
  const found: string[] = [];
  for (const node of nodesIn(doc)) if (shown(node.type)) found.push(squeeze(textOf(node)));
  return found.filter((line) => line !== '');
}

/** The first heading of level 1; without one the first words, at most 80 characters; without any words “Untitled”. */
export function titleOf(doc: DocNode): string {
  for (const node of nodesIn(doc)) {
    if (node.type === 'heading' && node.attrs?.level === 1 && squeeze(textOf(node)) !== '') return squeeze(textOf(node));
  }
  const first = plainText(doc).split('\n')[0] ?? '';
  if (first.length <= 80) return first || 'Untitled';
  return `${first.slice(0, 80).replace(/\s+\S*$/, '')}…`;
}

/** Paragraphs under the first heading of that name, up to the next heading; none when there is no such heading. */
export function proseUnder(doc: DocNode, heading: string): string[] {
  const blocks = childrenOf(doc);
  const at = blocks.findIndex((node) => node.type === 'heading' && squeeze(textOf(node)).toLowerCase() === heading.toLowerCase());
  if (at < 0) return [];
  const rest = blocks.slice(at + 1);
  const end = rest.findIndex((node) => node.type === 'heading');
  return paragraphs(end < 0 ? rest : rest.slice(0, end));
}

/** Words of the first paragraph that has any. */
export const firstParagraph = (doc: DocNode): string => paragraphs(childrenOf(doc))[0] ?? '';

const paragraphs = (blocks: DocNode[]): string[] =>
  blocks
    .filter((node) => node.type === 'paragraph')
    .map((node) => squeeze(textOf(node)))
    .filter((text) => text !== ''); // prettier-ignore
