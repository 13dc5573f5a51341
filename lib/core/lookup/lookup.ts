/**
 * From any clue to the circuit. Every piece of the clue says which things it fits and why; what fits all pieces is the answer. A clue
 * with several answers is never decided silently.
 */
import { splitPin } from '../chart/names';
import type { Chart } from '../chart/types';
import { adviceFor } from './advice';
import { type Piece, readClue } from './clue';
import type { Candidate, LookupResult } from './types';
import { circuitView, faceView, lineView } from './view';
import { weigh } from './weigh';
import { fold } from './words';

export const longestClue = 200; // characters
const mostCandidates = 12;
const decisive = 0.1; // how far ahead the first must be to be the answer

/** `pick` is `kind:id` of the candidate that somebody chose among several; one that does not fit the clue is ignored. */
export function lookup(chart: Chart, clue: string, pick?: string): LookupResult {
  const text = clue.trim();
  if (text === '') return { outcome: 'empty' };
  if (text.length > longestClue) {
    const advice = [`A clue has ${longestClue} characters at most; this one has ${text.length}. Give a number, a name, a wire or a pin.`];
    return { outcome: 'none', clue: text.slice(0, longestClue), advice };
  }
  const { candidates, whole, read, unread } = weigh(chart, readClue(withoutMachine(chart, text)));
  // A number alone cannot stand for a name that is not here: "mailbag 1".
  const absent = read.every(isBareNumber) ? unread : unread.filter(isDefinite);
  const [first, second] = candidates;
  if (!first || absent.length > 0) {
    const rest = first && whole ? [`Without that, the clue fits ${first.title}${second ? ' and others' : ''}.`] : [];
    return { outcome: 'none', clue: text, advice: [...adviceFor(chart, absent.length > 0 ? absent : unread), ...rest] };
  }
  const note = (candidate: Candidate) => withNotes(candidate, whole ? candidates : [], unread);
  const picked = candidates.find((c) => `${c.kind}:${c.id}` === pick);
  if (picked) return one(chart, text, note(picked));
  if (!second || (whole && first.score - second.score >= decisive)) return one(chart, text, note(first));
  return { outcome: 'several', clue: text, candidates: candidates.slice(0, mostCandidates) };
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

/** An answer says what else fits, and what of the clue was left out. */
function withNotes(candidate: Candidate, all: Candidate[], unread: readonly Piece[]): Candidate {
  const others = all.filter((c) => c !== candidate).map((c) => c.title);
  const more = others.length > mostOthers ? ` and ${others.length - mostOthers} more` : '';
  return {
    ...candidate,
    reasons: [
      ...candidate.reasons,
      ...(others.length > 0 ? [`the clue also fits ${others.slice(0, mostOthers).join(', ')}${more}`] : []),
      ...(unread.length > 0 ? [`nothing here is called ${unread.map((piece) => `“${piece.text}”`).join(', ')}`] : []),
    ],
  };
}

function one(chart: Chart, clue: string, candidate: Candidate): LookupResult {
  const { kind, id } = candidate;
  const base = { outcome: 'one' as const, clue, candidate };
  const onNet = (net: string) => chart.circuits.filter((c) => c.nets.includes(net));
  switch (kind) {
    case 'circuit':
      return { ...base, circuit: circuitView(chart, id) ?? undefined, circuits: [] };
    case 'line':
      return { ...base, line: lineView(chart, id) ?? undefined, circuits: onNet(id) };
    case 'pin': {
      const tap = chart.pins.get(id);
      const at = splitPin(id);
      const behind = tap?.behind.flatMap((number) => chart.circuit.get(number) ?? []) ?? [];
      return {
        ...base,
        line: (tap && lineView(chart, tap.net, [id])) ?? undefined,
        face: (at && faceView(chart, at.header, [at.position])) ?? undefined,
        circuits: behind.length > 0 ? behind : onNet(tap?.net ?? ''),
      };
    }
    case 'header':
      return { ...base, face: faceView(chart, id) ?? undefined, circuits: [] };
    case 'load': {
      const net = chart.loads.find((l) => l.number === id)?.net;
      return { ...base, line: (net && lineView(chart, net)) || undefined, circuits: [] };
    }
    case 'lamp': {
      const lamp = chart.lamps.find((l) => l.number === id);
      return { ...base, line: (lamp && lineView(chart, `lamp-column.${lamp.column}`)) ?? undefined, circuits: [] };
    }
  }
}
