/** The cases: seeded, fair to the odds, and wrong in the way that the complaint says. Also the textbook order, where nobody errs. */
import { describe, expect, it } from 'vitest';
import { lintDesign, lintMachine } from '@/lib/core/chart';
import { answer } from './bench';
import { bisect, order } from './bisect';
import { type SimCase, session, simCase } from './cases';
import { grid, randomChart } from './charts';
import { cutOut } from './circuit';
import { noErrors } from './errors';
import { network } from './network';
import { possibleFaults } from './possible';
import { random } from './random';
import { wire } from './wiring';
import { netWith, show, world } from './world';

const seeds = Array.from({ length: 60 }, (_, i) => i);
const cases = seeds.map((seed) => simCase(seed));

describe('chance', () => {
  it('the same seed gives the same case and the same answers', () => {
    const told = (c: SimCase) => JSON.stringify([c.truth, c.fault, c.complaint, answer(c.world, { kind: 'rest' }), c.chart.machine]);
    expect(told(simCase(7))).toBe(told(simCase(7)));
    expect(told(simCase(7))).not.toBe(told(simCase(8)));
  });
  it('Beta(1, 2) has mean 1/3 and variance 1/18', () => {
    const chance = random(3);
    const draws = Array.from({ length: 4000 }, () => chance.beta(1, 2));
    const mean = draws.reduce((sum, x) => sum + x, 0) / draws.length;
    expect(Math.abs(mean - 1 / 3)).toBeLessThan(0.015); // four standard errors
    expect(Math.abs(draws.reduce((sum, x) => sum + (x - mean) ** 2, 0) / draws.length - 1 / 18)).toBeLessThan(0.005);
  });
  it('presses go wrong as often as people do: 2 % pressed wrongly, 1 % read wrongly', () => {
    const sound = world(wire(grid(4, 4)), [], random(5));
    const saw = answer(sound, { kind: 'press', switch: '22', times: 10_000 });
    expect(saw.kind === 'press' && Math.abs(saw.missed / 10_000 - (0.02 * 0.99 + 0.98 * 0.01))).toBeLessThan(0.007);
  });
  it('quiet sessions are as frequent as the odds say', () => {
    const chance = random(9);
    const truth = possibleFaults(wire(grid(4, 4))).find((p) => p.sort === 'joint' && p.intermittent)!;
    const quiet = Array.from({ length: 4000 }, () => session(truth, chance)).filter((f) => f.comesAndGoes?.hand === 0).length;
    expect(Math.abs(quiet / 4000 - 0.3)).toBeLessThan(0.03);
  });
});

describe('charts', () => {
  it.each(seeds.slice(0, 30))('seed %i is sound', (seed) => {
    const chart = randomChart(random(seed));
    const found = [...lintDesign(chart.design), ...lintMachine(chart.machine, chart.design)].filter((f) => f.level === 'error');
    expect(found).toEqual([]);
    expect(chart.columns.length).toBeGreaterThanOrEqual(4);
    expect(chart.rows.length).toBeLessThanOrEqual(8);
  });
  it.each([...seeds.slice(0, 20), 458, 532, 869])('every fault that is possible in chart %i can be put in', (seed) => {
    const w = wire(randomChart(random(seed)));
    for (const { what } of possibleFaults(w)) network(w, [what]);
  });
  it('nothing hangs on some lines of in-line connectors', () => {
    const { chart, pins } = wire(randomChart(random(458)));
    const bare = [...chart.inline.values()].flatMap(({ id, pins: all }) => all.filter((pin) => !pins.has(`${id}-${pin.position}`)));
    expect(bare.map(({ net }) => net)).toEqual(['switch-column.5']);
  });
  it('a healthy machine shows each switch alone', () => {
    for (const seed of seeds.slice(0, 12)) {
      const sound = world(wire(randomChart(random(seed))), [], random(1));
      const known = netWith(sound, []);
      expect(show(known, [])).toEqual([]);
      for (const c of sound.wiring.contacts) expect(show(known, [c.number])).toEqual([c.number]);
    }
  });
});

describe('complaints', () => {
  it.each(cases.map((c) => [c.seed, c.place, c] as const))(
    'seed %i, %s: something is wrong that a healthy machine does not show',
    (_, __, c) => {
      const sound = world(c.wiring, [], random(1));
      const { complaint } = c;
      const known = netWith(sound, []);
      const wrong = complaint.held
        ? complaint.held.shown.join() !== show(known, complaint.held.switches).join()
        : (complaint.pressed?.missed ?? 0) > 0 || (complaint.pressed?.others.length ?? 0) > 0 || complaint.rest.length > 0;
      expect(wrong).toBe(true);
      // Never by chance alone: the fault itself changes what the machine shows.
      const faulty = netWith(c.world, c.world.faults);
      const asked = complaint.held?.switches ?? [complaint.switch];
      expect([show(faulty, asked), show(faulty, [])]).not.toEqual([show(known, asked), show(known, [])]);
    },
  );
  it('most kinds of place come up', () => {
    expect(new Set(cases.map((c) => c.truth.sort)).size).toBeGreaterThan(10);
    expect(cases.some((c) => c.truth.intermittent)).toBe(true);
    expect(cases.some((c) => !c.truth.intermittent)).toBe(true);
  });
  it('every sort of fault of the table is possible in some chart', () => {
    const sorts = new Set(cases.flatMap((c) => c.possible.map((p) => p.sort)));
    for (const sort of ['blade', 'microswitch', 'emitter', 'splice', 'select', 'exchanged', 'shifted', 'package', 'emitterSupply'] as const)
      expect(sorts).toContain(sort);
  });
});

describe('the textbook order', () => {
  it('takes the middle of the chain first', () => {
    const w = wire(grid(4, 4));
    const presses = order(w, { switch: '24', rest: [] }).flatMap((test) => (test.kind === 'press' ? [test.switch] : []));
    expect(presses).toEqual(['22', '21', '23', '34', '14', '44']);
  });
  it('finds hard faults of its own candidates when nobody errs', () => {
    const chart = grid(4, 4);
    const wiring = wire(chart);
    const possible = possibleFaults(wiring);
    const chance = random(11);
    const breaks = chance.shuffled(possible.filter((p) => p.what.does === 'open' && !p.intermittent && p.place.match(/ (A1J1-2|22)/)));
    for (const truth of breaks.slice(0, 12)) {
      const fault = { what: truth.what };
      const before = world(wiring, [fault], chance);
      const pressed = answer(before, { kind: 'press', switch: '24', times: 3 }, noErrors);
      const own = answer(before, { kind: 'press', switch: '22', times: 3 }, noErrors);
      if (pressed.kind !== 'press' || own.kind !== 'press') throw new Error('A press answers a press.');
      const complaint = own.missed > 0 ? { switch: '22', pressed: own, rest: [] } : { switch: '24', pressed, rest: [] };
      const one = { seed: 0, chart, wiring, possible, truth, fault, place: truth.place, complaint, world: before };
      expect(bisect(one, noErrors).places).toContain(truth.place);
    }
  });
});

describe('speed', () => {
  it('three closures of 64 leave a circuit of a few dozen nodes', () => {
    const w = wire(grid(8, 8));
    const closed = ['11', '12', '22'].map((n) => w.contact.get(n)!);
    const lines = new Set(closed.flatMap((i) => [w.contacts[i]!.column, w.contacts[i]!.row]));
    const keep = [...lines].map((l) => w.lines[l]!.board);
    const circuit = cutOut(network(w, []), { lines, closed, plugged: true, keep, supplyVolts: 12 });
    expect(circuit.components.reduce((sum, part) => sum + part.size, 0)).toBeLessThan(40);
  });
});
