/** The customer's write-up, derived from the same page. */
import type { Chart } from '@/lib/core/chart/types';
import type { WriteUpPart } from '@/lib/widgets/definition';
import { firstParagraph, proseUnder } from './prose';
import type { EvaluatedPage, PageContent, WriteUp } from './types';

/** Stands last on every write-up. */
export const standingCaution =
  'Mains, coil supplies and charged capacitors inside the cabinet can hurt or kill: unplug before opening. Work on them is subject to local codes and belongs to people with the licence or competence that those ask for.';

/** Gathers what each widget has to say. Without a complaint from a widget it is the prose under “Complaint”, else the first paragraph. */
export function writeUp(page: EvaluatedPage, content: PageContent, chart: Chart | null): WriteUp {
  const parts = page.widgets.flatMap((w): WriteUpPart[] => (w.definition?.writeUp && !w.error ? [w.definition.writeUp(w.model)] : []));
  const lines = (pick: (part: WriteUpPart) => string | string[] | undefined): string[] => [
    ...new Set(parts.flatMap((part) => pick(part) ?? []).filter((line) => line.trim() !== '')),
  ];
  const complaint = [lines((p) => p.complaint), proseUnder(content.doc, 'Complaint'), [firstParagraph(content.doc)].filter(Boolean)].find(
    (found) => found.length > 0,
  );
  return {
    title: page.title,
    machine: chart?.title ?? '',
    complaint: complaint ?? [],
    found: lines((p) => p.found),
    done: lines((p) => p.done),
    proof: lines((p) => p.proof),
    photos: parts.flatMap((p) => p.photos ?? []),
    parts: lines((p) => p.parts),
    watch: lines((p) => p.watch),
    cautions: [...lines((p) => p.cautions).filter((line) => line !== standingCaution), standingCaution],
    minutes: parts.reduce((sum, part) => sum + (part.minutes ?? 0), 0),
  };
}
