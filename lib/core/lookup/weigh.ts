/** Puts the pieces of a clue together: what fits them all, most general first; else what fits most of them. */
import type { Chart } from '../chart/types';
import type { Piece } from './clue';
import { type Fit, type Fits, fitsOf } from './fits';
import { partsOf, type Thing, thingByKey, thingsOf } from './things';
import type { Candidate } from './types';
import { likeness } from './words';

export interface Weighed {
  /** Best first. `whole`: fits every piece that was read. */
  candidates: Candidate[];
  whole: boolean;
  read: Piece[];
  unread: Piece[]; // pieces that fit nothing on this chart
}

interface Part {
  piece: Piece;
  fits: Fits;
  /** Its own fit, or the best of what it is part of. */
  reach: Map<Thing, Fit>;
}
interface Held {
  thing: Thing;
  fits: (Fit | null)[]; // one a part
  own: boolean; // at least one fit is its own, not that of a line, pin or connector that it is part of
}

export function weigh(chart: Chart, pieces: readonly Piece[]): Weighed {
  const parts = pieces.map((piece) => partOf(chart, piece));
  const told = parts.filter(({ piece }) => piece.is === 'word').length > sentence;
  const fitting = parts.filter((part) => part.fits.size > 0);
  const plain = told ? fitting.filter((part) => !onlySlips(part)) : fitting;
  const read = plain.some((part) => part.piece.is !== 'kind') ? plain : fitting;
  const sorted = { read: read.map((part) => part.piece), unread: parts.filter((part) => !read.includes(part)).map((part) => part.piece) };
  // "switch" alone is no clue.
  const [first, ...rest] = [...read].sort((a, b) => a.reach.size - b.reach.size);
  if (!first || read.every((part) => part.piece.is === 'kind')) return { candidates: [], whole: false, ...sorted };
  const hold = (thing: Thing): Held => ({
    thing,
    fits: read.map((part) => part.reach.get(thing) ?? null),
    own: read.some((part) => part.piece.is !== 'kind' && part.fits.has(thing.key)),
  });
  const all = [...first.reach.keys()].filter((thing) => rest.every((part) => part.reach.has(thing))).map(hold);
  if (all.length > 0) return { candidates: ranked(mostGeneral(all), read), whole: true, ...sorted };
  const some = new Set(read.flatMap((part) => [...part.reach.keys()]));
  const owned = [...some].map(hold).filter((h) => h.own);
  return { candidates: ranked(owned, read), whole: false, ...sorted };
}

function partOf(chart: Chart, piece: Piece): Part {
  const fits = fitsOf(chart, thingsOf(chart), piece);
  const reach = new Map<Thing, Fit>();
  for (const [key, fit] of fits) {
    const thing = thingByKey(chart).get(key);
    if (thing) reach.set(thing, fit);
    if (fit.named || !handedDown.has(piece.is)) continue;
    for (const part of partsOf(chart).get(key) ?? []) {
      if (!fits.has(part.key) && (reach.get(part)?.strength ?? 0) < fit.strength) reach.set(part, fit);
    }
  }
  return { piece, fits, reach };
}

const sentence = 4; // more words than this tell a story, in which some word always looks like a misspelt name

const onlySlips = ({ piece, fits }: Part): boolean =>
  piece.is === 'word' && [...fits.values()].every((fit) => fit.strength <= likeness.slip && fit.named);

const handedDown = new Set<Piece['is']>(['pin', 'header', 'board', 'line', 'wire']); // a connector's name is not that of the switches on it

/** A line that fits everything stands for the pins and switches that fit only because they are on it, and no better. */
function mostGeneral(held: Held[]): Held[] {
  const totals = new Map(held.map((h) => [h.thing.key, total(h)]));
  return held.filter((h) => h.own || [...h.thing.within].every((key) => total(h) > (totals.get(key) ?? -1)));
}

const total = ({ fits }: Held): number => fits.reduce((sum, fit) => sum + (fit?.strength ?? 0), 0);

const inOrder = new Intl.Collator('en', { numeric: true });
const order: Candidate['kind'][] = ['circuit', 'line', 'pin', 'header', 'load', 'lamp'];

function ranked(held: Held[], parts: Part[]): Candidate[] {
  return held
    .map((h) => candidateOf(h, parts))
    .sort((a, b) => b.score - a.score || order.indexOf(a.kind) - order.indexOf(b.kind) || inOrder.compare(a.title, b.title));
}

function candidateOf({ thing, fits }: Held, parts: Part[]): Candidate {
  const typed = parts.flatMap(({ piece }, i) => {
    const ofName = piece.is === 'word' || fits[i]?.named || (piece.is === 'kind' && thing.name.includes(piece.text));
    return ofName ? [piece.text] : [];
  });
  const asName = nameFit(thing, typed);
  const scores: number[] = [];
  const reasons: string[] = [];
  parts.forEach(({ piece }, i) => {
    if (piece.is === 'kind') return;
    const fit = fits[i];
    scores.push(fit ? fit.strength * (fit.named ? asName.factor : 1) : 0);
    if (!fit) reasons.push(`does not fit “${piece.text}”`);
    else if (!(fit.named && asName.reason)) reasons.push(fit.reason);
  });
  const score = scores.reduce((sum, s) => sum + s, 0) / Math.max(1, scores.length);
  return {
    kind: thing.kind,
    id: thing.id,
    title: thing.title,
    reasons: [...new Set([...(asName.reason ? [asName.reason] : []), ...reasons])],
    score: Math.round(score * 1000) / 1000,
  };
}

const begins = 0.8; // the words begin a longer name
const among = 0.7; // the words stand in it somewhere

/** The words together against the whole name: all of it, its beginning, or words among others. */
function nameFit({ name }: Thing, words: string[]): { factor: number; reason: string | null } {
  const typed = words.join(' ');
  const whole = name.join(' ');
  if (typed === '' || whole === '') return { factor: among, reason: null };
  if ([...words].sort().join(' ') === [...name].sort().join(' ')) return { factor: 1, reason: `its name is “${typed}”` };
  if (whole.startsWith(`${typed} `)) return { factor: begins, reason: `its name begins with “${typed}”` };
  return { factor: words.length === name.length ? 1 : among, reason: null };
}
