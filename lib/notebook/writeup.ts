/** The customer's write-up, derived from the same page. */
import type { Chart } from '@/lib/core/chart/types';
import type { PutIn, ShownPhoto, WriteUpPart } from '@/lib/widgets/definition';
import { firstParagraph, proseUnder } from './prose';
import type { EvaluatedPage, PageContent } from './types';
import { partLines, type Terms } from './writeup/parts';
import { type DerivedLine, type SectionId, sections, type WriteUp } from './writeup/types';

/** Stands last on every write-up. */
export const standingCaution =
  'Mains, coil supplies and charged capacitors inside the cabinet can hurt or kill: unplug before opening. Work on them is subject to local codes and belongs to people with the licence or competence that those ask for.';

const time = (minutes: number) =>
  minutes < 60 ? `${minutes} minutes` : `${Math.floor(minutes / 60)} h${minutes % 60 ? ` ${minutes % 60} min` : ''}`;

type Told = { widget: string; part: WriteUpPart };
const plain = (section: SectionId, from: string, text: string): DerivedLine => ({
  key: from ? `${section}.${from}` : section,
  section,
  text,
  facts: text,
  price: null,
  photo: null,
});

/** Gathers what each widget has to say. Without a complaint from a widget it is the prose under “Complaint”, else the first paragraph. */
export function writeUp(page: EvaluatedPage, content: PageContent, chart: Chart | null, terms: Terms): WriteUp {
  const told = page.widgets.flatMap((w): Told[] =>
    w.definition?.writeUp && !w.error ? [{ widget: w.id, part: w.definition.writeUp(w.model) }] : [],
  );
  const lines = (section: SectionId, pick: (part: WriteUpPart) => string | string[] | undefined) =>
    once(
      told.flatMap(({ widget, part }) =>
        [pick(part) ?? []].flat().flatMap((text, n) => (text.trim() ? [plain(section, `${widget}.${n}`, text)] : [])),
      ),
    );
  const prose = (texts: readonly string[]) => texts.filter(Boolean).map((text, n) => plain('complaint', `prose.${n}`, text));
  const complaint = [
    lines('complaint', (p) => p.complaint),
    prose(proseUnder(content.doc, 'Complaint')),
    prose([firstParagraph(content.doc)]),
  ].find((found) => found.length > 0);
  const minutes = told.reduce((sum, { part }) => sum + (part.minutes ?? 0), 0);
  const price = terms.rate === null ? null : Math.round((minutes * terms.rate) / 60);
  const all: DerivedLine[] = [
    plain('title', '', page.title),
    ...(complaint ?? []),
    ...lines('found', (p) => p.found),
    ...lines('done', (p) => p.done),
    ...lines('proof', (p) => p.proof),
    ...told.flatMap(({ widget, part }) => photoLines(widget, part.photos ?? [])),
    ...partLines(
      told.flatMap(({ part }): PutIn[] => part.parts ?? []),
      terms,
    ),
    ...(minutes > 0 ? [{ ...plain('time', '', time(minutes)), price }] : []),
    ...lines('watch', (p) => p.watch),
    ...lines('cautions', (p) => p.cautions).filter(({ text }) => text !== standingCaution),
    plain('cautions', 'standing', standingCaution),
  ];
  return { machine: chart?.title ?? '', lines: sections.flatMap(({ id }) => all.filter((line) => line.section === id)) };
}

/** Two widgets that say the same say it once. */
const once = (lines: DerivedLine[]) => lines.filter(({ text }, at) => lines.findIndex((l) => l.text === text) === at);

function photoLines(widget: string, photos: readonly ShownPhoto[]): DerivedLine[] {
  return photos.map((photo, at) => {
    const before = photos.slice(0, at).filter(({ picture }) => picture === photo.picture).length;
    const marks = photo.marks.flatMap(({ label }) => (label ? [label] : []));
    return {
      ...plain('photos', `${widget}.${photo.picture.slice(0, 16)}.${before}`, photo.caption.trim()),
      facts: [photo.caption.trim(), ...marks].filter(Boolean).join('; '),
      photo,
    };
  });
}
