/**
 * Wording over what the page says. A line that somebody worded keeps what the page said then; when the page says otherwise now, the
 * line is stale and says so until somebody has looked. Nothing here decides by itself which of the two is right.
 */
import { money } from '@/lib/core/money';
import { type DerivedLine, type SectionId, sectionOf, sections, type WriteUp } from './types';

export interface Wording {
  words: string | null; // null: as the page has it; empty: left out
  price: number | null; // minor units; null: as the page has it
  over: string; // what the page said when it was worded
  by: string; // name
  at: string; // ISO
}
/** By key of the line. */
export type Wordings = Readonly<Record<string, Wording>>;

export type Standing =
  | 'derived'
  | 'worded'
  | 'out' // left out
  | 'own' // added by somebody
  | 'gone'; // worded once; the page says nothing there any more
export interface DraftLine extends Omit<DerivedLine, 'facts'> {
  standing: Standing;
  derived: string | null; // the page's own words; null when it has none here
  derivedPrice: number | null;
  wording: Wording | null;
  /** What wording of this line stands over now; kept with it when somebody writes. */
  now: string;
  stale: boolean;
}

/** Cautions stay as they are: they can be added to, never reworded or left out. */
export const isFixed = (section: SectionId, key: string) => section === 'cautions' && !isOwn(key);
/** Lines that somebody added: no widget and no part has a key with a plus. */
export const isOwn = (key: string) => /^[a-z]+\.\+/.test(key);
export const ownKey = (section: SectionId, id: string) => `${section}.+${id}`;

/** What a line stands over: its facts, and its price where that was written too. */
export const groundOf = (facts: string, price: number | null, withPrice: boolean, currency: string) =>
  withPrice && price !== null ? `${facts}, ${money(price, currency)}` : facts;

/** What a line of one's own stands over: all that the page says in its part of the write-up. */
export const groundOfOwn = ({ lines }: WriteUp, section: SectionId) =>
  lines.flatMap((line) => (line.section === section ? [line.facts] : [])).join('\n');

/** Every line with its wording, stale or not; what the page says no more stands at the end of its section. */
export function draftOf(writeUp: WriteUp, wordings: Wordings, currency: string): DraftLine[] {
  const derived = writeUp.lines.map((line) => overDerived(line, wordings[line.key] ?? null, currency));
  const known = new Set(writeUp.lines.map(({ key }) => key));
  const added = Object.entries(wordings).flatMap(([key, wording]): DraftLine[] => {
    const section = sectionOf(key);
    return section === null || known.has(key) ? [] : [addedLine(writeUp, key, section, wording)];
  });
  return sections.flatMap(({ id }) => [...derived, ...added].filter(({ section }) => section === id));
}

function overDerived({ facts, ...line }: DerivedLine, found: Wording | null, currency: string): DraftLine {
  const wording = isFixed(line.section, line.key) ? null : found;
  const now = groundOf(facts, line.price, wording?.price != null, currency);
  return {
    ...line,
    text: wording?.words ?? line.text,
    price: wording?.price ?? line.price,
    standing: wording === null ? 'derived' : wording.words === '' ? 'out' : 'worded',
    derived: line.text,
    derivedPrice: line.price,
    wording,
    now,
    stale: wording !== null && wording.over !== now,
  };
}

function addedLine(writeUp: WriteUp, key: string, section: SectionId, wording: Wording): DraftLine {
  const own = isOwn(key);
  const now = own ? groundOfOwn(writeUp, section) : '';
  return {
    key,
    section,
    text: wording.words ?? '',
    price: wording.price,
    photo: null,
    standing: own ? 'own' : 'gone',
    derived: null,
    derivedPrice: null,
    wording,
    now,
    stale: !own || wording.over !== now,
  };
}

/** Lines whose facts changed under their wording: nothing is sent before somebody has looked at them. */
export const staleLines = (lines: readonly DraftLine[]) => lines.filter(({ stale }) => stale);
