import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { attemptCounter } from '@/lib/access/attempts';

const minute = 60_000;

describe('attempts', () => {
  test('so many a minute for each key, and more when the minute is over', () => {
    let now = 0;
    const counter = attemptCounter(3, () => now);
    expect([1, 2, 3, 4].map(() => counter.take('ines'))).toEqual([true, true, true, false]);
    expect(counter.take('tomas')).toBe(true);
    now = minute - 1;
    expect(counter.take('ines')).toBe(false);
    now = minute;
    expect(counter.take('ines')).toBe(true);
  });

  test('a right one is given back', () => {
    const counter = attemptCounter(1, () => 0);
    for (let i = 0; i < 10; i++) {
      expect(counter.take('ines')).toBe(true);
      counter.giveBack('ines');
    }
    expect(counter.keys()).toBe(0);
  });

  test('forgets keys whose minute is over, however many there were', () => {
    let now = 0;
    const counter = attemptCounter(2, () => now);
    for (let i = 0; i < 20_000; i++) counter.take(`guess ${i}`);
    expect(counter.keys()).toBe(20_000);
    now = minute;
    counter.take('ines');
    expect(counter.keys()).toBe(1);
  });

  test('never more than the limit within any minute, whatever comes', () => {
    const step = fc.record({ wait: fc.integer({ min: 0, max: 30_000 }), key: fc.constantFrom('a', 'b') });
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 4 }), fc.array(step, { maxLength: 60 }), (limit, steps) => {
        let now = 0;
        const counter = attemptCounter(limit, () => now);
        const passed: { key: string; at: number }[] = [];
        for (const { wait, key } of steps) {
          now += wait;
          const before = passed.filter((p) => p.key === key && p.at > now - minute).length;
          const took = counter.take(key);
          expect(took).toBe(before < limit);
          if (took) passed.push({ key, at: now });
        }
      }),
    );
  });
});
