'use client';
/** A widget in the editor: computes its model from shared state and draws it with the same view as the reading page. */
import { type NodeViewProps, NodeViewWrapper, ReactNodeViewRenderer } from '@tiptap/react';
import { useMemo, useSyncExternalStore } from 'react';
import { widgetContext } from '@/lib/notebook/evaluate-with';
import { WidgetNode } from '@/lib/notebook/schema';
import type { WidgetActions } from '@/lib/widgets/definition';
import { arrivalOf, fetchAgain, onArrival } from '@/lib/widgets/lazy';
import { menu } from '@/lib/widgets/menu';
import { UnknownView } from '@/lib/widgets/unknown-view';
import { Notice, Widget } from '../blocks';
import { type Session, useSession, useStore } from './session';
import { useWidgetState, widgetActions } from './widget-state';

/** Draws one widget of a live page. `act` is absent for readers. */
export function LiveWidget({ session, id, kind, onRemove }: { session: Session; id: string; kind: string; onRemove?: () => void }) {
  const { doc } = session.live;
  const state = useWidgetState(doc, id);
  const page = useStore(session.evaluated);
  const act = useMemo<WidgetActions | undefined>(
    () => (session.data.write ? widgetActions(doc, id, session.data.member.name) : undefined),
    [doc, id, session],
  );
  const arrival = useSyncExternalStore(
    onArrival,
    () => arrivalOf(kind),
    () => 'coming' as const,
  );
  const { definition, View } = arrival && typeof arrival === 'object' ? arrival : { definition: null, View: null };
  const computed = useMemo(() => {
    if (!definition) return null;
    const read = definition.state.safeParse(state);
    if (!read.success) return { error: read.error.issues.map((i) => `${i.path.join('.')}: ${i.message}`).join('; ') };
    const known = page.widgets.find((w) => w.id === id && w.kind === kind);
    if (known?.definition && known.error === undefined && JSON.stringify(known.state) === JSON.stringify(state))
      return { model: known.model };
    // Its own state, or its code, is newer than the page as it was evaluated last.
    const widgets = page.widgets.map((w) => (w.id === id ? { id, kind, definition, state, model: null } : w));
    return { model: definition.compute(read.data, widgetContext(widgets, id, session.context)) };
  }, [definition, state, session, page, id, kind]);
  return (
    <>
      {definition && View && computed && 'model' in computed ? (
        <View id={id} model={computed.model} state={state} page={session.data.page} act={act} />
      ) : arrival === 'coming' || arrival === 'failed' ? (
        <Waiting kind={kind} failed={arrival === 'failed'} />
      ) : (
        <UnknownView id={id} kind={kind} state={state} error={computed && 'error' in computed ? computed.error : undefined} />
      )}
      {onRemove && (
        <div className="widget-foot no-print">
          <button type="button" className="btn text" onClick={onRemove}>
            Take this out
          </button>
        </div>
      )}
    </>
  );
}

/** In the place of a widget whose code is on its way, or did not come. */
function Waiting({ kind, failed }: { kind: string; failed: boolean }) {
  const title = menu.find((entry) => entry.kind === kind)?.title ?? kind;
  return (
    <Widget title={title}>
      {failed ? (
        <Notice title="This part of the page did not come over the network.">
          <p>What was entered in it is safe.</p>
          <button type="button" className="btn" onClick={() => fetchAgain(kind)}>
            Try again
          </button>
        </Notice>
      ) : (
        <p className="soft" role="status">
          Coming…
        </p>
      )}
    </Widget>
  );
}

function WidgetNodeView({ node, deleteNode, editor, getPos }: NodeViewProps) {
  const session = useSession();
  const { id, kind } = node.attrs as { id: string; kind: string };
  if (!session) return null;
  const remove = () => {
    const at = getPos() ?? 0;
    deleteNode();
    editor.commands.focus(at, { scrollIntoView: false });
  };
  return (
    <NodeViewWrapper className="widget-host" data-widget={id} data-kind={kind}>
      <LiveWidget session={session} id={id} kind={kind} onRemove={editor.isEditable ? remove : undefined} />
    </NodeViewWrapper>
  );
}

export const LiveWidgetNode = WidgetNode.extend({
  addNodeView() {
    return ReactNodeViewRenderer(WidgetNodeView, {
      // Fields and ticks inside a widget belong to it, not to the editor.
      stopEvent: () => true,
    });
  },
});
