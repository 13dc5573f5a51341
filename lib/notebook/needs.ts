/** What the widgets of a page need, in page order. */
import type { Need } from '@/lib/core/parts/schema';
import type { EvaluatedPage } from './types';

export const needsOf = ({ widgets }: EvaluatedPage): Need[] =>
  widgets.flatMap((widget) => (widget.error ? [] : (widget.definition?.needs?.(widget.model) ?? [])));
