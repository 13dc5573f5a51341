/** What a question adds up to on each fix that has something of it. */
import type { Column } from './column';
import type { Posting } from './posting';
import { type Shares, scoreOf } from './score';

const unwanted = 0.1; // what is left of a score that has what the reader does not want
const denied = 0.4; // from this value on

/** A fix has its sums side by side in memory, where what takes time is to reach them. */
const [apart, same, fits, best, width] = [0, 1, 2, 3, 4] as const;

export type Sought = readonly { posting: Posting; by: number }[]; // `by`: what a full weight of it is worth

/** Kept from one search to the next, all zeros between: only what a question touches is written, read and put back. */
export class Sums {
  /** Of the slots that `finish` gave; valid until the next search. */
  scores = new Float32Array(0); // so that sums that are equal but for their order stay equal
  private sums = new Float64Array(0);
  private against = new Uint8Array(0);
  private seen = new Uint8Array(0);
  private touched = new Uint32Array(0);
  private length = 0;
  // What an item gives: slots, each once, with a value.
  private slots = new Uint32Array(0);
  private values = new Float64Array(0);

  /** Before a search among so many slots. */
  begin(count: number) {
    this.length = 0;
    if (count <= this.seen.length) return;
    const room = Math.ceil(count * 1.25);
    this.scores = new Float32Array(room);
    this.sums = new Float64Array(room * width);
    this.against = new Uint8Array(room);
    this.seen = new Uint8Array(room);
    this.touched = new Uint32Array(room);
    this.slots = new Uint32Array(room);
    this.values = new Float64Array(room);
  }

  add(sought: Sought, shares: Shares, part: number) {
    if (shares.apart === 0 && shares.same === 0) return; // such as the extent of a pin
    const { slots, values, sums, seen, touched } = this;
    const count = this.gather(sought);
    const [toApart, toSame, toFits] = [shares.apart * part, shares.same * part, shares.fits * part];
    let length = this.length;
    for (let k = 0; k < count; k++) {
      const slot = slots[k]!;
      const at = slot * width;
      const value = values[k]!;
      if (seen[slot] === 0) {
        seen[slot] = 1;
        touched[length++] = slot;
      }
      if (toApart > 0) sums[at + apart]! += toApart * value;
      if (toSame > 0) sums[at + same]! += toSame * value;
      if (toFits > 0) sums[at + fits]! += toFits * value;
    }
    this.length = length;
  }

  /** What only tells how well something else fits. */
  fit(sought: Sought, share: number) {
    const count = this.gather(sought);
    for (let k = 0; k < count; k++) if (this.seen[this.slots[k]!]) this.sums[this.slots[k]! * width + fits]! += share * this.values[k]!;
  }

  deny(sought: Sought) {
    const count = this.gather(sought);
    for (let k = 0; k < count; k++) if (this.values[k]! >= denied && this.seen[this.slots[k]!]) this.against[this.slots[k]!] = 1;
  }

  /** The slots that something was added to, now with their scores. `least`: what fits where nothing speaks for it. */
  finish(least: number, standing: Column<Float64Array<ArrayBuffer>>): Uint32Array {
    const { sums, against, seen, scores } = this;
    const touched = this.touched.subarray(0, this.length);
    for (let k = 0; k < touched.length; k++) {
      const slot = touched[k]!;
      const at = slot * width;
      const score = scoreOf(sums[at + apart]!, sums[at + same]!, least + sums[at + fits]!);
      scores[slot] = score * standing.get(slot) * (against[slot] ? unwanted : 1);
      sums[at + apart] = sums[at + same] = sums[at + fits] = against[slot] = seen[slot] = 0;
    }
    return touched;
  }

  /** Of each slot the best value that several postings give; how many slots. */
  private gather(sought: Sought): number {
    let count = 0;
    const [first, ...others] = sought;
    if (first && others.length === 0) {
      copy(first.posting, first.by, this.slots, this.values);
      return first.posting.length;
    }
    for (const { posting, by } of sought) raise(this.sums, posting, by);
    for (const { posting } of sought) count = takeOut(this.sums, posting, this.slots, this.values, count);
    return count;
  }
}

// Small functions of one shape each: the loops that a search spends its time in.
function copy(posting: Posting, by: number, slots: Uint32Array, values: Float64Array) {
  const { weights, length } = posting;
  slots.set(posting.slots.subarray(0, length));
  for (let k = 0; k < length; k++) values[k] = by * weights[k]!;
}
function raise(sums: Float64Array, { slots, weights, length }: Posting, by: number) {
  for (let k = 0; k < length; k++) {
    const value = by * weights[k]!;
    const at = slots[k]! * width + best;
    if (value > sums[at]!) sums[at] = value;
  }
}
function takeOut(sums: Float64Array, { slots, length }: Posting, into: Uint32Array, values: Float64Array, from: number): number {
  let to = from;
  for (let k = 0; k < length; k++) {
    const at = slots[k]! * width + best;
    if (sums[at] === 0) continue;
    into[to] = slots[k]!;
    values[to++] = sums[at]!;
    sums[at] = 0;
  }
  return to;
}
