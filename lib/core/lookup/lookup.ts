/**
 * From any clue to the circuit. Every piece of the clue says which things it fits and why; what fits all pieces is the answer. A clue
 * with several answers is never decided silently.
 */
import type { Chart } from '../chart/types';
import { adviceFor, guessAdvice } from './advice';
import { answerOf } from './answer';
import { type Piece, readClue } from './clue';
import { exactIndex } from './exact';
import { guessFaded } from './guess';
import { mendClue } from './spelling';
import { stripeOrderOf } from './stripe-order';
import type { Candidate, LookupResult } from './types';
import { isHeardPlainly, vocabularyOf } from './vocabulary';
import { type Weighed, weigh } from './weigh';
import { fold } from './words';

export const longestClue = 200; // characters
const mostCandidates = 12;
const decisive = 0.1; // how far ahead the first must be to be the answer

/**
 * `pick` is `kind:id` of the candidate that somebody chose among several (or among the guesses of a clue that fits nothing); one that
 * does not fit the clue is ignored. Results are shared between calls: read them, never change them.
 */
export function lookup(chart: Chart, clue: string, pick?: string): LookupResult {
  const text = clue.trim();
  const index = pick === undefined ? exactIndex(chart) : null;
  if (!index) return readAnew(chart, text, pick);
  const known = index.get(text);
  if (known) return sameFor(known, text);
  const key = text.toLowerCase();
  const kept = index.get(key);
  if (kept === undefined) return readAnew(chart, text);
  const result = kept ?? readAnew(chart, text);
  if (!kept) index.set(key, result);
  return sameFor(result, text);
}

/** The result as of a clue that differs in capitals only. */
function sameFor(result: LookupResult, text: string): LookupResult {
  if (result.outcome === 'empty' || result.clue === text) return result;
  if (result.outcome !== 'one') return { ...result, clue: text };
  const { outcome, candidate, circuit, line, face, far, circuits } = result;
  return { outcome, clue: text, candidate, circuit, line, face, ...(far && { far }), circuits };
}

/** The general reading, from the first letter. */
export function readAnew(chart: Chart, text: string, pick?: string): LookupResult {
  if (text === '') return { outcome: 'empty' };
  if (text.length > longestClue) {
    const advice = [`A clue has ${longestClue} characters at most; this one has ${text.length}. Give a number, a name, a wire or a pin.`];
    return { outcome: 'none', clue: text.slice(0, longestClue), advice };
  }
  const { candidates, whole, read, unread, notes } = understand(chart, withoutMachine(chart, text));
  // A number alone cannot stand for a name that is not here: "mailbag 1".
  const absent = read.every(isBareNumber) ? unread : unread.filter(isDefinite);
  const [first, second] = candidates;
  if (!first || absent.length > 0) {
    const guesses = guessFaded(chart, read, unread).slice(0, mostCandidates);
    const guess = guesses.find((c) => `${c.kind}:${c.id}` === pick);
    if (guess) return one(chart, text, guess);
    const rest = first && whole ? [`Without that, the clue fits ${first.title}${second ? ' and others' : ''}.`] : [];
    const advice = [...guessAdvice(chart, guesses), ...adviceFor(chart, absent.length > 0 ? absent : unread), ...rest];
    return { outcome: 'none', clue: text, advice, ...(guesses.length > 0 && { guesses }) };
  }
  const note = (candidate: Candidate) => withNotes(candidate, whole ? candidates : [], unread, notes);
  const picked = candidates.find((c) => `${c.kind}:${c.id}` === pick);
  if (picked) return one(chart, text, note(picked));
  if (!second || (whole && first.score - second.score >= decisive)) return one(chart, text, note(first));
  const several = candidates.slice(0, mostCandidates).map((c) => ({ ...c, reasons: [...c.reasons, ...notes] }));
  return { outcome: 'several', clue: text, candidates: several };
}

/** Reads the clue as written; when that does not go together or leaves a word unread, once more with its spelling mended. */
function understand(chart: Chart, text: string): Weighed & { notes: string[] } {
  const order = stripeOrderOf(chart);
  const written = { ...weigh(chart, readClue(text, order)), notes: [] };
  if (written.whole && written.unread.length === 0) return written;
  const vocabulary = vocabularyOf(chart);
  const mended = mendClue(text, { has: (word) => vocabulary.has(word), begins: (word) => isHeardPlainly(vocabulary, word) });
  if (!mended) return written;
  const again = weigh(chart, readClue(mended.text, order));
  const better = again.whole && (!written.whole || again.unread.length < written.unread.length);
  return better ? { ...again, notes: mended.mends.map(({ typed, read }) => `“${typed}” was read as “${read}”`) } : written;
}

/** The machine's own name and number say nothing of the circuit. */
function withoutMachine({ machine }: Chart, text: string): string {
  const plain = ` ${fold(text)
    .replace(/[\s,]+/g, ' ')
    .trim()} `;
  const rest = [machine.name, machine.unit ?? ''].reduce((left, words) => (words ? left.replace(` ${fold(words)} `, ' ') : left), plain);
  return rest.trim() === '' ? text : rest.trim();
}

const isBareNumber = (piece: Piece): boolean => piece.is === 'number' && piece.of === null;

/** A wire, pin or line that is not in the chart makes the clue wrong; a stray word or number does not. */
const isDefinite = (piece: Piece): boolean => !(piece.is === 'word' || piece.is === 'kind' || isBareNumber(piece));

const mostOthers = 3;

/** An answer says what else fits, what was mended, and what of the clue was left out. */
function withNotes(candidate: Candidate, all: Candidate[], unread: readonly Piece[], notes: readonly string[]): Candidate {
  const others = all.filter((c) => c !== candidate).map((c) => c.title);
  const more = others.length > mostOthers ? ` and ${others.length - mostOthers} more` : '';
  return {
    ...candidate,
    reasons: [
      ...candidate.reasons,
      ...notes,
      ...(others.length > 0 ? [`the clue also fits ${others.slice(0, mostOthers).join(', ')}${more}`] : []),
      ...(unread.length > 0 ? [`nothing here is called ${unread.map((piece) => `“${piece.text}”`).join(', ')}`] : []),
    ],
  };
}

function one(chart: Chart, clue: string, candidate: Candidate): LookupResult {
  const { circuit, line, face, far, circuits } = answerOf(chart, candidate);
  return { outcome: 'one', clue, candidate, circuit, line, face, ...(far && { far }), circuits };
}
