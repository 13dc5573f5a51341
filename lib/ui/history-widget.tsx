/** What was done in a widget, line by line, and the widget as it stood then. */
import { type BlockDifference, type Line, widgetLines, widgetTitle } from '@/lib/notebook/differences';
import type { EvaluatedWidget } from '@/lib/notebook/types';
import { StillWidget } from './still-widget';

interface Props {
  widget: NonNullable<BlockDifference['widget']>;
  /** The widget on the later side, computed; absent when it is not there. */
  now: EvaluatedWidget | undefined;
}

export function WidgetDifference({ widget: { kind, before, after }, now }: Props) {
  const title = widgetTitle(kind, after ?? before ?? {});
  if (after === null)
    return (
      <p className="widget-stub">
        <del>{title}</del>
      </p>
    );
  const lines = widgetLines(kind, before ?? {}, after, now?.model ?? null);
  return (
    <>
      <p className="widget-stub">{before === null ? <ins>{title}</ins> : title}</p>
      {lines.length > 0 && (
        <ul className="did">
          {lines.map((line, k) => (
            <li key={k}>
              <Said line={line} />
            </li>
          ))}
        </ul>
      )}
      {now && (
        <details className="as-it-stood">
          <summary>As it stood then</summary>
          <StillWidget widget={now} />
        </details>
      )}
    </>
  );
}

function Said({ line: { words, runs } }: { line: Line }) {
  if (!runs) return words;
  return (
    <>
      {words}:{' '}
      {runs.map(({ change, text }, k) =>
        change === 'added' ? <ins key={k}>{text}</ins> : change === 'removed' ? <del key={k}>{text}</del> : <span key={k}>{text}</span>,
      )}
    </>
  );
}
