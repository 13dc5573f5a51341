type Numbers = Float64Array<ArrayBuffer> | Uint32Array<ArrayBuffer>;

/** A growing column of numbers, one for each fix. */
export class Column<T extends Numbers> {
  private values: T;
  constructor(private readonly made: new (length: number) => T) {
    this.values = new made(64);
  }
  get(slot: number): number {
    return this.values[slot]!;
  }
  set(slot: number, value: number) {
    if (slot >= this.values.length) {
      const old = this.values;
      this.values = new this.made(Math.max(slot + 1, old.length * 2));
      this.values.set(old);
    }
    this.values[slot] = value;
  }
  /** Only these slots stay, numbered anew in this order. */
  keep(slots: readonly number[]) {
    const old = this.values;
    this.values = new this.made(Math.max(64, slots.length));
    for (const [at, slot] of slots.entries()) this.values[at] = old[slot]!;
  }
}
