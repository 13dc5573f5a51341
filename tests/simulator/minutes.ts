/** What the tests of the simulator take, to compare one order of tests with another. Source: bench tests of the fault model, §9, from memory. */
import type { SimTest } from './types';

type Power = 'on' | 'off' | 'unplugged';
const costs: Record<Exclude<SimTest['kind'], 'press'>, readonly [minutes: number, power: Power]> = {
  rest: [0.5, 'on'],
  hold: [2, 'on'],
  bridge: [3, 'unplugged'],
  jumper: [1.5, 'on'],
  'jumper-diode': [1.5, 'on'],
  continuity: [4, 'unplugged'],
  diode: [2, 'unplugged'],
  wiggle: [2, 'on'],
  joint: [3, 'off'],
  parted: [2, 'off'],
  ohms: [1.5, 'unplugged'], // half of a line to ground and to all others
  middle: [1.5, 'unplugged'],
  'unplugged-rest': [2, 'unplugged'],
  emitter: [1, 'on'],
  plug: [0.5, 'off'],
  average: [1, 'on'],
};
const level = { on: 0, off: 1, unplugged: 2 };
const step = 0.5; // switching off or on, unplugging or plugging

function costOf(test: SimTest): readonly [number, Power] {
  if (test.kind !== 'press') return costs[test.kind];
  return [test.how === 'ball' ? 2 : test.times > 3 ? 1 : 0.3, 'on'];
}

/** Minutes of these tests one after the other, on a machine that is on, with switching off, unplugging and back. */
export function minutesOf(tests: readonly SimTest[]): number {
  let power: Power = 'on';
  let sum = 0;
  for (const test of tests) {
    const [minutes, needs] = costOf(test);
    sum += minutes + Math.abs(level[needs] - level[power]) * step;
    power = needs;
  }
  return sum;
}
