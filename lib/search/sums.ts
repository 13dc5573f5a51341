/** What a question adds up to on each fix that has something of it. */
import type { Column } from './column';
import type { Posting } from './posting';
import { type Shares, scoreOf } from './score';

/** Slots, each once, with a value. */
export interface Valued {
  slots: Uint32Array;
  values: Float64Array;
  length: number;
}

const unwanted = 0.1; // what is left of a score that has what the reader does not want
const denied = 0.4; // from this value on

/** Kept from one search to the next, all zeros between: only what a question touches is written, read and put back. */
export class Sums {
  /** Of the slots that `finish` gave; valid until the next search. */
  scores = new Float32Array(0); // so that sums that are equal but for their order stay equal
  private apart = new Float64Array(0);
  private same = new Float64Array(0);
  private fits = new Float64Array(0);
  private best = new Float64Array(0);
  private against = new Uint8Array(0);
  private seen = new Uint8Array(0);
  private slots = new Uint32Array(0);
  private length = 0;

  /** Before a search among so many slots. */
  begin(count: number) {
    this.length = 0;
    if (count <= this.seen.length) return;
    const room = Math.ceil(count * 1.25);
    this.scores = new Float32Array(room);
    [this.apart, this.same, this.fits, this.best] = [1, 2, 3, 4].map(() => new Float64Array(room)) as [
      Float64Array<ArrayBuffer>,
      Float64Array<ArrayBuffer>,
      Float64Array<ArrayBuffer>,
      Float64Array<ArrayBuffer>,
    ];
    this.against = new Uint8Array(room);
    this.seen = new Uint8Array(room);
    this.slots = new Uint32Array(room);
  }

  /** Of each slot the best value that several postings give; `by`: what a full weight of it is worth. */
  valued(sought: readonly { posting: Posting; by: number }[]): Valued {
    const most = sought.reduce((sum, { posting }) => sum + posting.length, 0);
    const found: Valued = { slots: new Uint32Array(most), values: new Float64Array(most), length: 0 };
    for (const { posting, by } of sought) raise(this.best, posting, by);
    for (const { posting } of sought) takeOut(this.best, posting, found);
    return found;
  }

  add(valued: Valued, { apart, same, fits }: Shares, part: number) {
    this.length = mark(valued, this.seen, this.slots, this.length);
    if (apart > 0) addTo(this.apart, valued, apart * part);
    if (same > 0) addTo(this.same, valued, same * part);
    if (fits > 0) addTo(this.fits, valued, fits * part);
  }

  /** What only tells how well something else fits. */
  fit({ slots, values, length }: Valued, share: number) {
    for (let k = 0; k < length; k++) if (this.seen[slots[k]!]) this.fits[slots[k]!]! += share * values[k]!;
  }

  deny({ slots, values, length }: Valued) {
    for (let k = 0; k < length; k++) if (values[k]! >= denied && this.seen[slots[k]!]) this.against[slots[k]!] = 1;
  }

  /** The slots that something was added to, now with their scores. `least`: what fits where nothing speaks for it. */
  finish(least: number, standing: Column<Float64Array<ArrayBuffer>>): Uint32Array {
    const { apart, same, fits, against, seen, scores } = this;
    const slots = this.slots.subarray(0, this.length);
    for (const slot of slots) {
      scores[slot] = scoreOf(apart[slot]!, same[slot]!, least + fits[slot]!) * standing.get(slot) * (against[slot] ? unwanted : 1);
      apart[slot] = same[slot] = fits[slot] = against[slot] = seen[slot] = 0;
    }
    return slots;
  }
}

// Small functions of one shape each: the loops that a search spends its time in.
function raise(values: Float64Array, { slots, weights, length }: Posting, by: number) {
  for (let k = 0; k < length; k++) {
    const value = by * weights[k]!;
    if (value > values[slots[k]!]!) values[slots[k]!] = value;
  }
}
function takeOut(values: Float64Array, { slots, length }: Posting, found: Valued) {
  for (let k = 0; k < length; k++) {
    const slot = slots[k]!;
    if (values[slot] === 0) continue;
    found.slots[found.length] = slot;
    found.values[found.length++] = values[slot]!;
    values[slot] = 0;
  }
}
function mark({ slots, length }: Valued, seen: Uint8Array, into: Uint32Array, from: number): number {
  let to = from;
  for (let k = 0; k < length; k++) {
    const slot = slots[k]!;
    if (seen[slot] === 1) continue;
    seen[slot] = 1;
    into[to++] = slot;
  }
  return to;
}
function addTo(sums: Float64Array, { slots, values, length }: Valued, share: number) {
  for (let k = 0; k < length; k++) sums[slots[k]!]! += share * values[k]!;
}
