/** A widget this version does not know, or whose state its schema refuses: its data is kept and shown plainly. */
import { Widget } from '@/lib/ui/shell';
import type { WidgetState } from './definition';

export function UnknownView({ id, kind, state, error }: { id: string; kind: string; state: WidgetState; error?: string }) {
  const rows = Object.entries(state).sort(([a], [b]) => (a < b ? -1 : 1));
  return (
    <Widget title={kind || 'Unknown'} id={`${id}-unknown`}>
      {error ? (
        <p>What is kept here can’t be read: {error}. It is safe; undo the last change, or take this out.</p>
      ) : (
        <p>This notebook does not know “{kind}” yet. What it holds is kept as it is; a newer version of the notebook may show it.</p>
      )}
      {rows.length > 0 && <pre className="plain-data">{rows.map(([key, value]) => `${key}: ${JSON.stringify(value)}`).join('\n')}</pre>}
    </Widget>
  );
}
