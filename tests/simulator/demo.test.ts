/** The charts of the demo club, healthy: nothing at rest, each switch alone, every case solvable. */
import { describe, expect, it } from 'vitest';
import sb1 from '@/content/designs/sb-1.json';
import sb2 from '@/content/designs/sb-2.json';
import kestrel from '@/content/machines/kestrel-post-1.json';
import lantern from '@/content/machines/lantern-regatta-3.json';
import orchard from '@/content/machines/tin-orchard.json';
import { indexChart } from '@/lib/core/chart';
import { boardDesign, machine } from '@/lib/core/chart/schema';
import { simCase } from './cases';
import { random } from './random';
import { wire } from './wiring';
import { netWith, show, world } from './world';

const designs = [sb1, sb2].map((d) => boardDesign.parse(d));
const charts = [kestrel, lantern, orchard].map((m) => {
  const found = machine.parse(m);
  return indexChart(found, designs.find((d) => d.id === found.design)!);
});

describe.each(charts.map((chart) => [chart.title, chart] as const))('%s', (_, chart) => {
  it('shows each switch alone', () => {
    const sound = world(wire(chart), [], random(1));
    const known = netWith(sound, []);
    expect(show(known, [])).toEqual([]);
    for (const c of sound.wiring.contacts) expect([...show(known, [c.number])]).toEqual([c.number]);
  });
  it('has cases', () => {
    for (let seed = 0; seed < 5; seed++) expect(simCase(seed, { chart }).complaint.switch).not.toBe('');
  });
});
