/** Against the definition itself, on invented fixes. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { Recurrence } from '@/lib/search/recurrence';

interface Made {
  faults: string[];
  day: number;
}
const anyFix = fc.record({
  faults: fc.uniqueArray(fc.constantFrom('coil 83', 'contact 12', 'switch 44'), { maxLength: 3 }),
  day: fc.integer({ min: 19_000, max: 19_400 }),
});
const plainly = (fix: Made, all: Iterable<Made>) =>
  [...all].some((other) => other.day > fix.day && other.day <= fix.day + 90 && other.faults.some((f) => fix.faults.includes(f)));

test('a fault that came back within 90 days is known at every change, and only what changes is judged anew', () => {
  fc.assert(
    fc.property(fc.array(anyFix, { maxLength: 40 }), fc.array(fc.nat(39)), (made, removed) => {
      const recurrence = new Recurrence();
      const living = new Map<number, Made>();
      const known = new Map<number, boolean>();
      const judge = (slots: Iterable<number>) => {
        for (const slot of slots) known.set(slot, recurrence.cameBack(slot, living.get(slot)!.faults));
        for (const [slot, fix] of living) expect(known.get(slot)).toBe(plainly(fix, living.values()));
      };
      for (const [slot, fix] of made.entries()) {
        living.set(slot, fix);
        judge(recurrence.add(slot, fix.faults, fix.day));
      }
      for (const slot of removed) {
        const fix = living.get(slot);
        living.delete(slot);
        if (fix) judge(recurrence.remove(slot, fix.faults));
      }
      const slots = [...living.keys()];
      recurrence.keep(slots);
      for (const [at, slot] of slots.entries()) expect(recurrence.cameBack(at, living.get(slot)!.faults)).toBe(known.get(slot));
    }),
    { numRuns: 200 },
  );
});
