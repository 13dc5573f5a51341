/** One block of a page with what became of it. Put in and taken out are told by words and lines, never by colour alone. */
import type { ReactNode } from 'react';
import { type BlockDifference, type Run, widgetTitle } from '@/lib/notebook/differences';
import type { DocNode, EvaluatedWidget } from '@/lib/notebook/types';
import { childrenOf, nodesIn, textOf } from '@/lib/notebook/walk';
import { WidgetDifference } from './history-widget';
import { Prose } from './prose';

type Widgets = ReadonlyMap<string, EvaluatedWidget>;
interface Props {
  difference: BlockDifference;
  widgets: Widgets;
}

const signs = {
  added: 'Added',
  removed: 'Removed',
  changed: 'Changed',
  'moved-away': 'Moved from here',
  'moved-here': 'Moved here',
} as const;

/** Nothing to see: an empty line. */
const isEmpty = (node: DocNode) => node.type === 'paragraph' && textOf(node) === '' && childrenOf(node).length === 0;

/** A block that did not change. */
export const SameBlock = ({ node, widgets }: { node: DocNode; widgets: Widgets }) => <div className="prose">{plain(node, widgets)}</div>;

/** Neighbours with which the same was done, under one sign. */
export function ChangedBlocks({
  change,
  differences,
  widgets,
}: {
  change: keyof typeof signs;
  differences: readonly BlockDifference[];
  widgets: Widgets;
}) {
  const seen = differences.filter(({ node, runs }) => runs !== undefined || !isEmpty(node));
  if (seen.length === 0) return null;
  return (
    <div className="change" data-change={change}>
      <p className="change-sign">{signs[change]}</p>
      <div className="prose">
        {seen.map((difference, k) => (
          <Inside key={k} difference={difference} widgets={widgets} />
        ))}
      </div>
    </div>
  );
}

function Inside({ difference, widgets }: Props): ReactNode {
  const { change, node, widget, was } = difference;
  if (widget)
    return change === 'moved-away' ? (
      <Stub id={widget.id} kind={widget.kind} />
    ) : (
      <WidgetDifference widget={widget} now={widgets.get(widget.id)} />
    );
  switch (change) {
    case 'added':
      return <ins>{plain(node, widgets)}</ins>;
    case 'removed':
      return <del>{plain(node, widgets)}</del>;
    case 'changed':
      return (
        <>
          {was && <p className="was">{wasWords(node.type, was)}</p>}
          {changed(difference, widgets)}
        </>
      );
    default:
      return change === 'moved-away' ? <p className="soft">{opening(node)}</p> : plain(node, widgets);
  }
}

/** A block as it is; widgets in it by name only. */
const plain = (node: DocNode, widgets: Widgets) => (
  <Prose
    doc={{ type: 'doc', content: [node] }}
    renderWidget={(id) => <Stub key={id} id={id} kind={kindIn(node, id)} state={widgets.get(id)?.state} />}
  />
);

const kindIn = (node: DocNode, id: string) => {
  for (const { type, attrs } of nodesIn(node)) if (type === 'widget' && attrs?.id === id) return String(attrs.kind ?? '');
  return '';
};

function Stub({ kind, state = {} }: { id: string; kind: string; state?: EvaluatedWidget['state'] }) {
  return <p className="widget-stub">{widgetTitle(kind, state)}</p>;
}

/** A block that changed, drawn as what it is now. */
function changed({ node, runs, blocks }: BlockDifference, widgets: Widgets): ReactNode {
  const inside = runs ? <Runs runs={runs} /> : blocks?.map((block, k) => <Within key={k} difference={block} widgets={widgets} />);
  switch (node.type) {
    case 'heading':
      return node.attrs?.level === 1 ? <h1>{inside}</h1> : node.attrs?.level === 2 ? <h2>{inside}</h2> : <h3>{inside}</h3>;
    case 'codeBlock':
      return (
        <pre>
          <code>{inside}</code>
        </pre>
      );
    case 'bulletList':
      return <ul>{inside}</ul>;
    case 'orderedList':
      return <ol start={typeof node.attrs?.start === 'number' && node.attrs.start !== 1 ? node.attrs.start : undefined}>{inside}</ol>;
    case 'listItem':
      return <li>{inside}</li>;
    case 'blockquote':
      return <blockquote>{inside}</blockquote>;
    case 'paragraph':
      return <p>{inside}</p>;
    default:
      return runs || blocks ? inside : plain(node, widgets);
  }
}

/** A block inside a list, an item or a quotation. */
function Within({ difference, widgets }: Props): ReactNode {
  const { change, node } = difference;
  if (change === 'same') return plain(node, widgets);
  if (change === 'changed' && !difference.widget) return <>{changed(difference, widgets)}</>;
  if (node.type !== 'listItem') return <Inside difference={difference} widgets={widgets} />;
  const inside = (
    <Prose doc={node} renderWidget={(id) => <Stub key={id} id={id} kind={kindIn(node, id)} state={widgets.get(id)?.state} />} />
  );
  if (change === 'added')
    return (
      <li>
        <ins>{inside}</ins>
      </li>
    ); // prettier-ignore
  if (change === 'removed')
    return (
      <li>
        <del>{inside}</del>
      </li>
    ); // prettier-ignore
  return (
    <li>
      <span className="was">{change === 'moved-here' ? 'Moved here:' : 'Moved from here:'}</span> {inside}
    </li>
  );
}

const Runs = ({ runs }: { runs: readonly Run[] }) => runs.map((run, k) => <Words key={k} run={run} />);

function Words({ run: { change, node } }: { run: Run }) {
  const words = <Prose doc={{ type: 'doc', content: [node] }} renderWidget={() => null} />;
  return change === 'added' ? <ins>{words}</ins> : change === 'removed' ? <del>{words}</del> : words;
}

function wasWords(type: string, was: Record<string, unknown>): string {
  if (type === 'heading') return `Was a heading of level ${String(was.level ?? 1)}`;
  if (type === 'orderedList') return `Was numbered from ${String(was.start ?? 1)}`;
  return type === 'codeBlock' ? `Was code in ${String(was.language ?? 'no language')}` : 'Was laid out differently';
}

/** The first words of a block, to know it by. */
function opening(node: DocNode): string {
  const words = textOf(node).replace(/\s+/g, ' ').trim();
  return words.length <= 60 ? words : `${words.slice(0, 60).replace(/\s+\S*$/, '')}…`;
}
