/** A repair as a page of the notebook: a title, bench notes and a fix record, nothing that the page would derive from the chart. */
import type { PageContent } from '@/lib/notebook/types';
import type { Repair } from './types';

const outcomes = { verified: 'mended', recurred: 'watching', unproved: 'watching' } as const;

export function pageOf(r: Repair): PageContent {
  const text = (words: string) => [{ type: 'text', text: words }];
  const heading = { type: 'heading', attrs: { level: 1 }, content: text(r.title) };
  const notes = { type: 'paragraph', content: text(r.notes) };
  if (!r.situation) return { doc: { type: 'doc', content: [heading, notes] }, widgets: {} };
  return {
    doc: { type: 'doc', content: [heading, notes, { type: 'widget', attrs: { id: 'fix', kind: 'fix-record' } }] },
    widgets: {
      fix: {
        symptom: r.complaint,
        cause: r.cause ?? '',
        place: r.place,
        remedy: r.remedy,
        outcome: outcomes[r.outcome],
        proof: r.outcome === 'verified' ? 'Proved by hand and in play.' : '',
        minutes: r.minutes,
        on: r.on,
        by: r.by,
        ...Object.fromEntries(r.circuits.map((number) => [`circuit.${number}`, true])),
      },
    },
  };
}
