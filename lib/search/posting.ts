/** Which fixes have a feature, and how strongly: two growing arrays. */
export class Posting {
  slots = new Uint32Array(4);
  weights = new Uint8Array(4); // of 255
  length = 0;
  /** How many of them are of fixes that still stand. */
  living = 0;

  push(slot: number, weight: number) {
    if (this.length === this.slots.length) {
      const [slots, weights] = [this.slots, this.weights];
      this.slots = new Uint32Array(slots.length * 2);
      this.weights = new Uint8Array(slots.length * 2);
      this.slots.set(slots);
      this.weights.set(weights);
    }
    this.slots[this.length] = slot;
    this.weights[this.length] = weight;
    this.length++;
    this.living++;
  }
}
