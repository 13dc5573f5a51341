/**
 * Readings against the circuit simulator of these tests, which solves the currents: random machines, one or two hard faults, one to five closed
 * contacts. Where the engine says "either" (0.5), both are right. What is left out is listed, with who is right by the fault model.
 */
import { describe, expect, it } from 'vitest';
import { faultSpace, type SwitchMode } from '@/lib/core/diagnosis/switch/modes';
import { readings } from '@/lib/core/diagnosis/switch/solve';
import type { Wiring } from '@/lib/core/diagnosis/switch/wiring';
import { randomChart } from '../simulator/charts';
import { network } from '../simulator/network';
import { type Random, random } from '../simulator/random';
import { conducts, scan } from '../simulator/solve';
import { type Wiring as SimWiring, wire } from '../simulator/wiring';
import { wiringFor } from './diagnosis-switch-charts';
import { physicalOf } from './diagnosis-switch-physical';

interface Scene {
  wiring: Wiring;
  faults: readonly SwitchMode[];
  closed: readonly number[];
}
const does = (mode: SwitchMode) => mode.effect.does;
const linesOf = ({ effect }: SwitchMode): readonly string[] => ('lines' in effect ? effect.lines : 'line' in effect ? [effect.line] : []);
const cutLines = (wiring: Wiring, mode: SwitchMode) =>
  does(mode) === 'cut' ? (wiring.network.elements.get(mode.element)?.lines ?? []) : [];
const permutes = (mode: SwitchMode) => ['exchanged', 'shifted', 'turned', 'elsewhere', 'plugs-exchanged'].includes(does(mode));
const onBoard = (mode: SwitchMode) => /^(driver|input) /.test(mode.element);

/** Scenes that are not compared. */
const leftOut: { why: string; when(scene: Scene): boolean }[] = [
  {
    why: 'where along a broken line a short sits is not said: the two may take different sides of the break',
    when: ({ wiring, faults }) =>
      faults.some((a) => faults.some((b) => !onBoard(a) && a !== b && linesOf(b).some((line) => cutLines(wiring, a).includes(line)))),
  },
  {
    why: 'a dead package of which one part is stuck, a matrix without supply of which one driver is stuck: not in the model',
    when: ({ faults }) =>
      faults.length > 1 && faults.some((mode) => /^(package|matrix)/.test(mode.element)) && faults.some((m) => does(m) !== 'cut'),
  },
  {
    why: 'wires in each other’s place and a second fault: whether it moves with the wire or stays at the board is not said',
    when: ({ faults }) => faults.length > 1 && faults.some(permutes),
  },
  {
    why: 'matrix wires on the pins of direct lines, or the other way round: the engine takes them to meet nothing, whatever currents flow',
    when: ({ wiring, faults }) =>
      faults.some(({ effect }) => {
        const two = effect.does === 'elsewhere' ? [effect.header, effect.on] : effect.does === 'plugs-exchanged' ? effect.headers : [];
        return new Set(two.map((header) => carriesDirect(wiring, header))).size > 1;
      }),
  },
  {
    why: 'faults of two parts of one switch, or two rows that touch of which one has lost its pull: decided apart below',
    when: ({ faults: [a, b] }) =>
      a !== undefined &&
      b !== undefined &&
      (('switch' in a.effect && b.element.endsWith(` ${a.effect.switch}`)) ||
        ('switch' in b.effect && a.element.endsWith(` ${b.effect.switch}`)) ||
        ([does(a), does(b)].sort().join() === 'join,pull-open' && linesOf(a).some((line) => linesOf(b).includes(line)))),
  },
];
const carriesDirect = ({ network, directs }: Wiring, header: string): boolean =>
  (network.chart.headers.get(header)?.pins ?? []).some(({ net }) => directs.includes(net));

/** A row tied to the level that holds against the strobe drags drivers down, over closed contacts: the table says "unchanged", currents say less. */
function overloads({ wiring, faults }: Scene): boolean {
  const lost = wiring.strobeLow ? 'to-supply' : 'to-ground';
  return faults.some((mode) => does(mode) === lost || (!wiring.strobeLow && does(mode) === 'middle-to-ground'));
}

function sceneOf(wiring: Wiring, modes: readonly SwitchMode[], chance: Random): Scene {
  const sorts = [...new Set(modes.map((mode) => `${does(mode)} ${mode.kind}`))];
  const pick = () => {
    const sort = chance.pick(sorts); // every sort as often, however rare
    return chance.pick(modes.filter((mode) => `${does(mode)} ${mode.kind}` === sort));
  };
  const [first, second] = [pick(), pick()];
  const faults = permutes(first) || chance.chance(0.4) || first.element === second.element ? [first] : [first, second];
  const cells = wiring.cells.map((_, index) => index);
  return { wiring, faults, closed: chance.shuffled(cells).slice(0, chance.whole(1, 5)) };
}

/** Cells where the two differ: number, engine, simulator. */
function differences({ wiring, faults, closed }: Scene, sim: SimWiring): [string, number, number][] {
  const net = network(
    sim,
    faults.flatMap((mode) => physicalOf(sim, mode)),
  );
  const held = new Set(closed.map((index) => wiring.cells[index]?.number));
  const current = sim.contacts.flatMap((c, i) => (conducts(net, i, held.has(c.number) !== c.normallyClosed) ? [i] : []));
  const found = scan(net, current);
  const mine = readings(
    wiring,
    faults.map((mode) => mode.effect),
    new Set(closed),
  );
  return wiring.shown.flatMap(({ number, column, row }, index): [string, number, number][] => {
    const at = (lines: readonly number[], id: string | undefined) => lines.findIndex((line) => sim.lines[line]?.id === id);
    const cell = at(sim.columns, wiring.columns[column]) * sim.rows.length + at(sim.rows, wiring.rows[row]);
    const its = column < 0 ? Number(found.direct.has(sim.contact.get(number) ?? -1)) : (found.closed[cell] ?? 0);
    const reading = mine[index] ?? 0;
    return reading === 0.5 || reading === its ? [] : [[number, reading, its]];
  });
}

describe('readings against the simulator', () => {
  const chance = random(2711);
  const compared = new Map<string, number>();
  let total = 0;
  const wrong: string[] = [];
  for (let seed = 0; seed < 60; seed++) {
    const chart = randomChart(random(9000 + seed));
    const wiring = wiringFor(chart);
    const sim = wire(chart);
    const modes = faultSpace(wiring.network, { done: [], counts: {} }).modes.filter((mode) => mode.behaviour === 'hard');
    for (let i = 0; i < 50; i++) {
      const scene = sceneOf(wiring, modes, chance);
      if (leftOut.some(({ when }) => when(scene))) continue;
      const apart = differences(scene, sim);
      const kept = overloads(scene) ? apart.filter(([, engine]) => engine === 0) : apart;
      if (kept.length > 0) {
        const { polarity, idle } = chart.design.matrix;
        const closed = scene.closed.map((index) => wiring.cells[index]?.number);
        wrong.push(
          `${9000 + seed} ${polarity} ${idle}: ${scene.faults.map((m) => m.id).join(' & ')}; closed ${closed}: ${kept.join(' | ')}`,
        );
      }
      total++;
      for (const mode of scene.faults) compared.set(does(mode), (compared.get(does(mode)) ?? 0) + 1);
    }
  }
  it('agrees wherever the engine is sure', () => expect(wrong).toEqual([]));
  it('has compared enough, with every kind of fault', () => {
    expect(total).toBeGreaterThan(1500);
    expect([...compared.keys()].sort()).toEqual(
      [
        'bypass-both',
        'contact-closed',
        'cut',
        'diode-bypassed',
        'diode-reversed',
        'driver-on',
        'elsewhere',
        'exchanged',
        'input-reads',
        'join',
        'middle-to-ground',
        'plugs-exchanged',
        'pull-open',
        'select-stuck',
        'shifted',
        'to-ground',
        'to-supply',
        'turned',
      ].sort(),
    );
    for (const [kind, times] of compared) expect(times, kind).toBeGreaterThan(15);
  });
});
