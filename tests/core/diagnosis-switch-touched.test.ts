/** Nothing is overlooked: a switch that a fault is said not to touch reads as if the fault were not there. Against the solver. */
import { describe, expect, it } from 'vitest';
import { faultSpace } from '@/lib/core/diagnosis/switch/modes';
import { readings } from '@/lib/core/diagnosis/switch/solve';
import { restCells, toggled, type Wiring } from '@/lib/core/diagnosis/switch/wiring';
import type { Effect } from '@/lib/core/diagnosis/types';
import { randomChart } from '../simulator/charts';
import { random } from '../simulator/random';
import { kestrel, lantern, orchard, wiringFor } from './diagnosis-switch-charts';

const charts = [lantern, kestrel, orchard, ...Array.from({ length: 12 }, (_, seed) => randomChart(random(400 + seed)))];

/** What anybody sees of one switch: its own readings at rest and pressed, and the others that change with it. */
function seenAt(wiring: Wiring, effects: readonly Effect[], number: string): string {
  const index = wiring.cellOf.get(number) ?? -1;
  const up = readings(wiring, effects, restCells(wiring));
  const down = readings(wiring, effects, toggled(wiring, number));
  const others = wiring.shown.filter((_, i) => i !== index && (down[i] ?? 0) > (up[i] ?? 0)).map((cell) => cell.number);
  return `${up[index]} ${down[index]} ${others.join()}`;
}

describe('what a fault touches', () => {
  it.each(charts.map((chart, k) => [`${chart.title} ${k}`, chart] as const))('%s', (_, chart) => {
    const wiring = wiringFor(chart);
    const { modes, touching } = faultSpace(wiring.network, { done: [], counts: {} });
    const chance = random(77);
    const numbers = wiring.cells.map((cell) => cell.number);
    const sound = new Map(numbers.map((number) => [number, seenAt(wiring, [], number)]));
    const missed: string[] = [];
    for (const [place, { id, effect }] of modes.entries()) {
      if (effect.does === 'cut') continue; // by definition what it serves
      for (const number of chance.shuffled(numbers).slice(0, 4)) {
        if (touching.get(number)?.has(place)) continue;
        const seen = seenAt(wiring, [effect], number);
        if (seen !== sound.get(number)) missed.push(`${id} at ${number}: ${sound.get(number)} becomes ${seen}`);
      }
    }
    expect(missed).toEqual([]);
  });
});
