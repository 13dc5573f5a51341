/** A whole page for reading: its text, with each widget drawn where it stands. */
import type { EvaluatedPage, PageContent } from '@/lib/notebook/types';
import { Prose } from './prose';
import { StillWidget } from './still-widget';

interface PageProseProps {
  content: PageContent;
  page: EvaluatedPage;
  id?: string; // of the page, for links to what is made of it
  busy?: boolean;
}

export function PageProse({ content, page, id: pageId, busy }: PageProseProps) {
  const widgets = new Map(page.widgets.map((w) => [w.id, w]));
  return (
    <div className="prose" aria-busy={busy}>
      <Prose
        doc={content.doc}
        renderWidget={(id) => {
          const widget = widgets.get(id);
          return widget ? <StillWidget key={id} widget={widget} page={pageId} /> : null;
        }}
      />
    </div>
  );
}
