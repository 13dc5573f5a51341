/**
 * A fix as the index sees it: features with a weight 0 to 1, such as `d:flipper/left`, `does:weak`, `pin:A3J4-7`, `w:lane`. Pure. The same
 * names are looked for by a question (ask.ts).
 */
import type { Lexicon } from '@/lib/core/symptom/lexicon';
import { readName, readSymptom } from '@/lib/core/symptom/read';
import { shownBy } from '@/lib/core/symptom/shows';
import { nameStems, wordsOf } from '@/lib/core/symptom/tokens';
import type { Term, TermKind } from '@/lib/core/symptom/types';
import type { Fact } from '@/lib/widgets/definition';
import type { Together } from './together';

/** What is indexed of a page. */
export interface Fix {
  page: string;
  title: string;
  body: string;
  facts: Fact[];
  machine: string | null;
  design: string | null;
  place: string; // A3P4-7; may be empty
  /** switch, lamp or load: of the circuits it is about, when the chart tells. */
  sort: string | null;
  /** What its circuits have in common, when they are several. */
  together: Together[];
  /** Wires at that place, and those of devices that are only named: of the chart. */
  placeWires: string[];
  namedLines(name: string): { wires: string[]; pins: string[] };
}

/** What is said about the fault itself counts in full, what the notes mention less. */
const inNotes = 0.45;
const wordInNotes = 0.7;
const deviceInNotes = 0.25;
const ofCircuits = 0.9; // how many the recorded circuits are, where words say another number
const ofChart = 0.9; // what the chart calls the circuits of the repair
const ofNamed = 0.8; // a wire of a device that is told by its name
const ofLine = 0.4; // of each circuit, when a whole line of them is concerned
const longestOpening = 300; // characters of a page that names no symptom
const fewLine = 5; // from this many circuits on a repair is of a whole line

const inPassing = new Set<TermKind>(['extent', 'sort']);
const ofFault = new Set<TermKind>(['does', 'when']);

export type Features = Map<string, number>;

export function featuresOf(fix: Fix, lexicon: Lexicon): Features {
  const features: Features = new Map();
  const add = (name: string, weight: number) => {
    if (weight > (features.get(name) ?? 0)) features.set(name, weight);
  };
  const symptom = fix.facts.filter((f) => f.kind === 'symptom').map((f) => f.label);
  const told = [fix.title, ...(symptom.length > 0 ? symptom : [fix.body.slice(fix.title.length, fix.title.length + longestOpening)])].join(
    '. ',
  );
  const terms = readSymptom(told, lexicon, shownBy(fix.facts.find((f) => f.kind === 'fault')?.value)).terms;
  for (const term of terms) if (!term.implied) addTerm(term, 1, add);
  add(`sort:${fix.sort ?? terms.find((t) => t.kind === 'sort')?.value ?? '-'}`, 1);
  for (const term of terms) if (term.kind === 'name') addLines(fix, term.value, add);
  for (const wire of fix.placeWires) add(`at-wire:${wire}`, 1);
  for (const term of readSymptom(notesOf(fix, symptom), sureOnly(lexicon)).terms) {
    // Where the symptom is told, what else is noted often speaks of something else.
    if (inPassing.has(term.kind) || (symptom.length > 0 && ofFault.has(term.kind))) continue;
    addTerm(term, term.kind === 'word' ? wordInNotes : term.kind === 'device' ? deviceInNotes : inNotes, add);
  }

  const circuits = fix.facts.filter((f) => f.kind === 'circuit');
  for (const circuit of circuits) {
    const name = nameIn(circuit);
    if (nameStems(name)) add(`n:${nameStems(name)}`, circuits.length >= fewLine ? ofLine : 1);
    const weight = circuits.length >= fewLine ? ofLine : ofChart;
    for (const term of readName(name, lexicon)) addTerm(term, weight, add);
  }
  const extent = terms.find((t) => t.kind === 'extent');
  for (const wide of fix.together) add(`extent:${wide}`, extent?.implied ? 1 : ofCircuits);
  if (extent?.implied && fix.together.length === 0)
    add(`extent:${circuits.length === 0 ? extent.value : circuits.length === 1 ? 'one' : 'several'}`, 1);
  for (const { kind, value } of fix.facts) {
    if (kind === 'symptom' || kind === 'text' || kind === 'outcome') continue;
    add(`${kind}:${value}`, 1);
    if ((kind === 'pin' || kind === 'header') && fix.design) add(`${kind}:${value}@${fix.design}`, 1);
    if ((kind === 'circuit' || kind === 'sibling') && fix.machine) add(`${kind}:${value}@${fix.machine}`, 1);
  }
  if (fix.machine) add(`machine:${fix.machine}`, 1);
  if (fix.design) add(`board-design:${fix.design}`, 1);
  const place = /^(A\d{1,2})[JP](\d{1,2})-(\d{1,2})$/i.exec(fix.place.trim());
  if (!place) return features;
  const pin = `${place[1]?.toUpperCase()}J${place[2]}-${Number(place[3])}`;
  add(`place:${pin}`, 1);
  if (fix.design) add(`place:${pin}@${fix.design}`, 1);
  return features;
}

const sure = new WeakMap<Lexicon, Lexicon>();
/** Reads what phrases say and guesses nothing. */
function sureOnly(lexicon: Lexicon): Lexicon {
  const known = sure.get(lexicon) ?? { ...lexicon, guess: { does: () => [], extent: () => [], device: () => [] } };
  sure.set(lexicon, known);
  return known;
}

export const nameIn = ({ label, value }: Fact) => (label.startsWith(value) ? label.slice(value.length) : label);

/** What the page says beside its title and symptom, which are read by themselves. */
const notesOf = ({ title, body }: Fix, symptom: string[]): string =>
  body
    .split('\n')
    .filter((line) => line !== title && !symptom.includes(line))
    .join('\n');

function addLines({ namedLines, design }: Fix, name: string, add: (name: string, weight: number) => void) {
  const { wires, pins } = namedLines(name);
  for (const wire of wires) add(`wire:${wire}`, ofNamed);
  for (const pin of pins) {
    add(`pin:${pin}`, ofNamed);
    if (design) add(`pin:${pin}@${design}`, ofNamed);
  }
}

function addTerm({ kind, value, side, without, chance = 1 }: Term, by: number, add: (name: string, weight: number) => void) {
  if (without) return;
  const weight = by * chance;
  if (kind === 'device') {
    add(`d:${value}`, weight);
    add(`d:${value}/${side ?? '-'}`, weight);
    if (side) add(`side:${side}`, weight);
  } else if (kind === 'word') add(`w:${value}`, weight);
  else if (kind === 'concept') add(`c:${value}`, weight);
  else if (kind === 'name') add(`n:${value}`, weight);
  else if (kind !== 'quote') add(`${kind}:${value}`, weight);
}

/** All words of a fix in order, for what was put in quotes. */
export const wordsInOrder = ({ title, body }: Fix): string[] =>
  wordsOf(body.startsWith(title) ? body : `${title}\n${body}`)
    .filter(({ filler }) => !filler)
    .map(({ stem }) => stem);
