/** The customer's write-up: what the page says, line by line. */
import type { ShownPhoto } from '@/lib/widgets/definition';

/** In the order in which the customer reads them. */
export const sections = [
  { id: 'title', name: 'Title' },
  { id: 'complaint', name: 'What was wrong' },
  { id: 'found', name: 'What we found' },
  { id: 'done', name: 'What we did' },
  { id: 'proof', name: 'How we tested it' },
  { id: 'photos', name: 'Photos' },
  { id: 'parts', name: 'Parts' },
  { id: 'time', name: 'Time' },
  { id: 'watch', name: 'What to watch' },
  { id: 'cautions', name: 'Please note' },
] as const;
export type SectionId = (typeof sections)[number]['id'];
export const nameOf = (id: SectionId): string => sections.find((s) => s.id === id)?.name ?? '';

/** Sections that somebody can add a line to. */
export const addable: readonly SectionId[] = ['complaint', 'found', 'done', 'proof', 'parts', 'watch', 'cautions'];

/** Sections whose lines can cost something. */
export const isPriced = (section: SectionId) => section === 'parts' || section === 'time';

/** The section that a line stands in, by the line's key. */
export const sectionOf = (key: string): SectionId | null => sections.find(({ id }) => key === id || key.startsWith(`${id}.`))?.id ?? null;

/** One line as the page gives it. */
export interface DerivedLine {
  key: string; // stays the same while its words change: `done.<widget>.0`
  section: SectionId;
  text: string;
  facts: string; // what it is made from, in words: when they change, wording over it is no longer sure
  price: number | null; // minor units; null: none is known, or it costs nothing
  photo: ShownPhoto | null;
}
export interface WriteUp {
  machine: string;
  lines: DerivedLine[]; // in order of sections
}
