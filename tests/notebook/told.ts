/** What a write-up tells, section by section, as plain texts. */
import type { Chart } from '@/lib/core/chart/types';
import { evaluatePage } from '@/lib/notebook/evaluate';
import type { EvaluatedPage, PageContent } from '@/lib/notebook/types';
import { writeUp } from '@/lib/notebook/writeup';
import type { Terms } from '@/lib/notebook/writeup/parts';
import type { SectionId } from '@/lib/notebook/writeup/types';
import { fixtureChart } from '../core/fixture';
import { fixtureCatalogue } from '../core/parts-fixture';
import { context } from './story';

export const terms: Terms = { catalogue: fixtureCatalogue, used: {}, currency: fixtureCatalogue.currency, rate: null };

export function told(content: PageContent, page: EvaluatedPage = evaluatePage(content, context), chart: Chart | null = fixtureChart) {
  const { machine, lines } = writeUp(page, content, chart, terms);
  const of = (id: SectionId) => lines.flatMap(({ section, text }) => (section === id ? [text] : []));
  return {
    machine,
    title: of('title'),
    complaint: of('complaint'),
    found: of('found'),
    done: of('done'),
    proof: of('proof'),
    photos: lines.flatMap(({ photo }) => (photo ? [photo] : [])),
    parts: of('parts'),
    time: of('time'),
    watch: of('watch'),
    cautions: of('cautions'),
  };
}
