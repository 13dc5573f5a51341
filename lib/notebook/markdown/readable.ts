/** A page for reading elsewhere: plain CommonMark in which every widget is written out as what it shows, not as its state. */
import { menu } from '@/lib/widgets/menu';
import type { EvaluatedPage, PageContent } from '../types';
import { toMarkdown } from './write';

const titleOf = (kind: string) => menu.find((entry) => entry.kind === kind)?.title ?? kind;

/** One way only: what a widget computed cannot be read back. `toMarkdown` is the form that can. */
export function readableMarkdown(content: PageContent, page: EvaluatedPage): string {
  const computed = new Map(page.widgets.map((w) => [w.id, w]));
  const parts: string[] = [];
  let prose: NonNullable<PageContent['doc']['content']> = [];
  const flush = () => {
    if (prose.length > 0) parts.push(toMarkdown({ doc: { type: 'doc', content: prose }, widgets: content.widgets }).trim());
    prose = [];
  };
  for (const node of content.doc.content ?? []) {
    const widget = node.type === 'widget' ? computed.get(String(node.attrs?.id)) : undefined;
    if (!widget?.definition || widget.error) {
      prose.push(node);
      continue;
    }
    flush();
    const text = widget.definition.markdown(widget.model).trim();
    if (text) parts.push(`**${titleOf(widget.kind)}**\n\n${text}`);
  }
  flush();
  return `${parts.filter(Boolean).join('\n\n')}\n`;
}
