/** What a sentence about a fault says, as plain data: shown to the reader, corrected by them, compared with the same reading of each fix. */

export const signKinds = ['sort', 'does', 'extent', 'when'] as const;
export type SignKind = (typeof signKinds)[number];
/** sort: switch, lamp, load; does: dead, sometimes …; extent: one, several, line, bank, everything; when: after-repair, warm … */
export type TermKind = SignKind | 'cause' | 'device' | 'side' | 'name' | 'concept' | 'word' | 'quote';

export interface Term {
  kind: TermKind;
  /** Id of the sign, role or side; a name, word or quote by its stems. */
  value: string;
  label: string;
  /** As it was written. */
  text: string;
  /** device only: which one of its kind. */
  side?: string;
  /** The reader does not want it: "not the left one". */
  without?: true;
  /** Nobody said so; it follows from the rest. */
  implied?: true;
  /** No known phrase says so, its words make it likely: how much, 0 to 1. */
  chance?: number;
  /** What was typed, when it was taken for a slip. */
  slip?: string;
  /** concept only: further words of the trade that mean the same. */
  also?: string[];
}
export interface Reading {
  terms: Term[];
}

/** Words of one sign, role or side. */
export interface Saying {
  id: string;
  name: string;
  says: string[];
}
/** How people speak of faults: `content/symptoms.json`. */
export interface Symptoms {
  /** What is said around a fault and tells nothing of it: "the customer says". */
  openings: string[];
  works: string[];
  steadily: string[];
  /** What follows is not wanted. */
  without: string[];
  /** What comes before is not wanted: "the diode is fine". */
  cleared: string[];
  /** Which sort of circuit, by what is said of it. */
  sort: Saying[];
  does: Saying[];
  extent: Saying[];
  when: Saying[];
  /** What is at fault, as a technician names it; ids are those of the fault classes. */
  causes: Saying[];
  sides: { id: string; says: string[] }[];
  devices: Saying[];
  /** A sign that two words give together, a few words apart in either order: "since … cleaned". */
  pairs: { kind: SignKind; id: string; first: string[]; second: string[] }[];
}
