/** A widget on a page for reading: the same view as in the editor, without ways to change it. */
import type { EvaluatedWidget } from '@/lib/notebook/types';
import { UnknownView } from '@/lib/widgets/unknown-view';
import { viewOf } from '@/lib/widgets/views';

export function StillWidget({ widget, page }: { widget: EvaluatedWidget; page?: string }) {
  const View = viewOf(widget.kind);
  return (
    <div className="widget-host" id={`w-${widget.id}`} data-kind={widget.kind}>
      {widget.definition && View && !widget.error ? (
        <View id={widget.id} model={widget.model} state={widget.state} page={page} />
      ) : (
        <UnknownView id={widget.id} kind={widget.kind} state={widget.state} error={widget.error} />
      )}
    </div>
  );
}
