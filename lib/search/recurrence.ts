/** Which fixes were no cure: the same fault on one circuit came back within 90 days. */
import { Column } from './column';

const soonDays = 90;

export class Recurrence {
  private readonly byFault = new Map<string, number[]>(); // slots, the earliest first
  private readonly days = new Column(Float64Array); // of slots, since 1970

  /** Notes that a fix was made on that day; answers the fixes that have to be judged anew, itself among them. */
  add(slot: number, faults: readonly string[], day: number): Set<number> {
    this.days.set(slot, day);
    const concerned = new Set([slot]);
    for (const fault of faults) {
      const same = this.byFault.get(fault) ?? [];
      this.byFault.set(fault, same);
      same.splice(this.after(same, day), 0, slot);
      this.soonBefore(same, day, concerned);
    }
    return concerned;
  }

  /** Forgets a fix; answers those that have to be judged anew. */
  remove(slot: number, faults: readonly string[]): Set<number> {
    const concerned = new Set<number>();
    for (const fault of faults) {
      const same = this.byFault.get(fault)!;
      same.splice(same.indexOf(slot), 1);
      if (same.length === 0) this.byFault.delete(fault);
      this.soonBefore(same, this.days.get(slot), concerned);
    }
    return concerned;
  }

  /** Whether any of its faults came back soon. */
  cameBack(slot: number, faults: readonly string[]): boolean {
    const day = this.days.get(slot);
    return faults.some((fault) => {
      const same = this.byFault.get(fault)!;
      const next = same[this.after(same, day)];
      return next !== undefined && this.days.get(next) <= day + soonDays;
    });
  }

  /** Only these slots stay, numbered anew in this order. */
  keep(slots: readonly number[]) {
    const to = new Map(slots.map((slot, at) => [slot, at]));
    for (const [fault, same] of this.byFault)
      this.byFault.set(
        fault,
        same.map((slot) => to.get(slot)!),
      );
    this.days.keep(slots);
  }

  private soonBefore(same: readonly number[], day: number, into: Set<number>) {
    for (let at = this.after(same, day - soonDays - 1); at < same.length && this.days.get(same[at]!) < day; at++) into.add(same[at]!);
  }

  /** The place of the first that is later than a day. */
  private after(same: readonly number[], day: number): number {
    let [low, high] = [0, same.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (this.days.get(same[middle]!) > day) high = middle;
      else low = middle + 1;
    }
    return low;
  }
}
