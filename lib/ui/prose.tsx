/** A page's text as React, from the document as plain data. What the schema does not know is left out; addresses are checked. */
import type { ReactNode } from 'react';
import { isAllowedUrl } from '@/lib/notebook/links';
import type { DocNode } from '@/lib/notebook/types';

type RenderWidget = (id: string) => ReactNode;

/** `renderWidget` draws the widget with that id, or null. */
export function Prose({ doc, renderWidget }: { doc: DocNode; renderWidget: RenderWidget }) {
  return <Nodes nodes={doc.content} renderWidget={renderWidget} />;
}

function Nodes({ nodes = [], renderWidget }: { nodes?: DocNode[]; renderWidget: RenderWidget }) {
  return nodes.map((node, k) => <Block key={k} node={node} renderWidget={renderWidget} />);
}

function Block({ node, renderWidget }: { node: DocNode; renderWidget: RenderWidget }): ReactNode {
  const inside = <Nodes nodes={node.content} renderWidget={renderWidget} />;
  switch (node.type) {
    case 'text':
      return (node.marks ?? []).reduce<ReactNode>(marked, node.text ?? '');
    case 'paragraph':
      return <p>{node.content?.length ? inside : <br />}</p>;
    case 'heading':
      return <Heading level={node.attrs?.level}>{inside}</Heading>;
    case 'bulletList':
      return <ul>{inside}</ul>;
    case 'orderedList':
      return <ol start={typeof node.attrs?.start === 'number' && node.attrs.start !== 1 ? node.attrs.start : undefined}>{inside}</ol>;
    case 'listItem':
      return <li>{inside}</li>;
    case 'blockquote':
      return <blockquote>{inside}</blockquote>;
    case 'codeBlock':
      return (
        <pre>
          <code>{inside}</code>
        </pre>
      );
    case 'horizontalRule':
      return <hr />;
    case 'hardBreak':
      return <br />;
    case 'widget':
      return typeof node.attrs?.id === 'string' ? renderWidget(node.attrs.id) : null;
    default:
      return node.content ? inside : null;
  }
}

function Heading({ level, children }: { level: unknown; children: ReactNode }) {
  if (level === 1) return <h1>{children}</h1>;
  return level === 2 ? <h2>{children}</h2> : <h3>{children}</h3>;
}

function marked(inside: ReactNode, mark: NonNullable<DocNode['marks']>[number]): ReactNode {
  switch (mark.type) {
    case 'bold':
      return <strong>{inside}</strong>;
    case 'italic':
      return <em>{inside}</em>;
    case 'code':
      return <code>{inside}</code>;
    case 'link':
      return isAllowedUrl(mark.attrs?.href) ? (
        <a href={mark.attrs.href} rel="noopener noreferrer nofollow">
          {inside}
        </a>
      ) : (
        inside
      );
    default:
      return inside;
  }
}
