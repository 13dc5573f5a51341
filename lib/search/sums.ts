/**
 * What a question adds up to on each fix. One column for each sum: the fixes of a posting ascend, so that adding walks a column from its
 * beginning to its end, and nearly every fix has something of most questions ("one", "switch").
 */
import type { Column } from './column';
import type { Posting } from './posting';
import { type Shares, scoreOf } from './score';

const unwanted = 0.1; // what is left of a score that has what the reader does not want
const denied = 0.4; // from this value on

export type Sought = readonly { posting: Posting; by: number }[]; // `by`: what a full weight of it is worth

/** Kept from one search to the next; all zeros between. */
export class Sums {
  private scores = new Float32Array(0); // so that sums that are equal but for their order stay equal
  private apart = new Float64Array(0);
  private same = new Float64Array(0);
  private fits = new Float64Array(0);
  private best = new Float64Array(0); // of an item that several features fit
  private count = 0;

  /** Before a search among so many slots. */
  begin(count: number) {
    this.count = count;
    if (count <= this.scores.length) return;
    const room = Math.ceil(count * 1.25);
    this.scores = new Float32Array(room);
    for (const column of ['apart', 'same', 'fits', 'best'] as const) this[column] = new Float64Array(room);
  }

  /** Of each fix the best value that the sought features give, by its shares. */
  add(sought: Sought, { apart, same, fits }: Shares, part: number) {
    if (apart > 0) this.pour(sought, this.apart, apart * part);
    if (same > 0) this.pour(sought, this.same, same * part);
    if (fits > 0) this.pour(sought, this.fits, fits * part);
  }

  /** The score of each slot, valid until the next search. `least`: what fits where nothing speaks for it. */
  finish(least: number, standing: Column<Float64Array<ArrayBuffer>>, against: readonly Sought[]): Float32Array {
    const { scores, apart, same, fits, count } = this;
    for (let slot = 0; slot < count; slot++) scores[slot] = scoreOf(apart[slot]!, same[slot]!, least + fits[slot]!) * standing.get(slot);
    for (const column of [apart, same, fits]) column.fill(0, 0, count);
    this.withhold(against);
    return scores.subarray(0, count);
  }

  /** Of fixes that have what is not wanted little is left. */
  private withhold(against: readonly Sought[]) {
    if (against.length === 0) return;
    for (const sought of against) for (const { posting, by } of sought) raise(this.best, posting, by);
    for (const { posting } of against.flat()) lessen(this.scores, this.best, posting);
  }

  private pour(sought: Sought, into: Float64Array, share: number) {
    if (sought.length === 1) return add(into, sought[0]!.posting, share * sought[0]!.by);
    for (const { posting, by } of sought) raise(this.best, posting, by);
    for (const { posting } of sought) takeOut(into, this.best, posting, share);
  }
}

// Small functions of one shape each: the loops that a search spends its time in.
function add(into: Float64Array, { slots, weights, length }: Posting, by: number) {
  for (let k = 0; k < length; k++) into[slots[k]!]! += by * weights[k]!;
}
function raise(best: Float64Array, { slots, weights, length }: Posting, by: number) {
  for (let k = 0; k < length; k++) {
    const value = by * weights[k]!;
    if (value > best[slots[k]!]!) best[slots[k]!] = value;
  }
}
function takeOut(into: Float64Array, best: Float64Array, { slots, length }: Posting, share: number) {
  for (let k = 0; k < length; k++) {
    const slot = slots[k]!;
    into[slot]! += share * best[slot]!;
    best[slot] = 0;
  }
}
function lessen(scores: Float32Array, best: Float64Array, { slots, length }: Posting) {
  for (let k = 0; k < length; k++) {
    const slot = slots[k]!;
    if (best[slot]! >= denied) scores[slot]! *= unwanted;
    best[slot] = 0;
  }
}
