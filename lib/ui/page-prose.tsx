/** A whole page for reading: its text, with each widget drawn where it stands. */
import type { EvaluatedPage, PageContent } from '@/lib/notebook/types';
import { Prose } from './prose';
import { StillWidget } from './still-widget';

export function PageProse({ content, page, busy }: { content: PageContent; page: EvaluatedPage; busy?: boolean }) {
  const widgets = new Map(page.widgets.map((w) => [w.id, w]));
  return (
    <div className="prose" aria-busy={busy}>
      <Prose
        doc={content.doc}
        renderWidget={(id) => {
          const widget = widgets.get(id);
          return widget ? <StillWidget key={id} widget={widget} /> : null;
        }}
      />
    </div>
  );
}
