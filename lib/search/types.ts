/** What a search gives. Made by `searchFixes(query)`. */
import type { Reading } from '@/lib/core/symptom/types';
import type { Counted, Facet } from './facet';

export interface QueryPart {
  text: string; // as typed
  as: 'word' | 'wire' | 'pin' | 'header' | 'circuit' | 'board-design' | 'machine';
  value: string; // canonical: grey/orange, A3J4-7, 46; for a word its stem
  label: string; // "grey/orange, in either order"
  synonyms: string[]; // words it was widened by
}
export interface SearchResult {
  page: string;
  title: string;
  machine: string; // "Lantern Regatta, no. 3"; empty for a page of no machine
  machineId: string | null;
  on: string; // day of the fix record, else of the page: 2025-11-08
  by: string;
  minutes: number | null;
  state: 'open' | 'mended';
  cause: string; // in words; may be empty
  place: string; // A3P4-7; may be empty
  excerpt: string; // one or two sentences
  wires: string[]; // for the loom
  why: string[]; // 'says “spinner”', 'grey/orange is on this repair', 'same board design SB-2'
  score: number;
}
/** The circuit itself, when the query is a clue. */
export interface ClueAnswer {
  machineId: string;
  machine: string;
  kind: string;
  id: string;
  title: string; // "46 Spinner"
  wires: string[];
  pins: string[];
  reason: string;
}
export interface SearchResponse {
  query: string;
  clues: QueryPart[];
  /** How the rest of the query was understood; it can be sent back corrected. */
  reading: Reading;
  answers: ClueAnswer[];
  results: SearchResult[];
  total: number;
  /** The causes of the fixes most like the question. */
  like: { count: number; causes: (Counted & { name: string })[] };
  facets: Record<Facet, (Counted & { name: string })[]>;
  /** The index is still being filled: of so many pages. */
  building: { done: number; of: number } | null;
  milliseconds: number;
}
