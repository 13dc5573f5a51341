/** What each element serves, and the order of the path: chains, splices, several taps, closed rings, unplaced and direct switches, shared supplies. */
import { describe, expect, it } from 'vitest';
import { type Chart, indexChart } from '@/lib/core/chart';
import { type Chain, machine } from '@/lib/core/chart/schema';
import { board, edgesOf, lostWithout } from '@/lib/core/diagnosis/switch/line-tree';
import { networkOf } from '@/lib/core/diagnosis/switch/network';
import { randomChart } from '../simulator/charts';
import { random } from '../simulator/random';
import { kestrel, lantern, orchard } from './diagnosis-switch-charts';
import { fixtureDesign } from './fixture';

const serves = (chart: Chart, element: string) => [...(networkOf(chart).elements.get(element)?.serves ?? ['no such element'])].sort();
const column = (n: number) => `switch-column.${n}`;
const row = (n: number) => `switch-row.${n}`;

/** The design with a second header for column 4. */
const design = {
  ...fixtureDesign,
  headers: fixtureDesign.headers.flatMap((h) =>
    h.pins.some((pin) => pin.net === column(4))
      ? [h, { ...h, id: 'A3J9', positions: 2, keys: [], pins: [{ position: 1, net: column(4) }] }]
      : [h],
  ),
};
/** Column 4 of a small machine, hung as the chains say. */
function columnFour(chains: Chain[]): Chart {
  const found = machine.parse({
    format: 'fettlebook-machine/1',
    id: 'lantern-regatta-3',
    name: 'Lantern Regatta',
    sort: 'pinball',
    design: 'SB-2',
    numbering: { order: 'column-row' },
    switches: [1, 2, 3, 4].map((r) => ({ column: 4, row: r, name: `Switch ${r}` })),
    chains,
  });
  return indexChart(found, design);
}
const taps = (columnFour([]).taps.get(column(4)) ?? []).map((tap) => tap.pin);
const [first = '', second = ''] = taps;
const steps = (...numbers: string[]) => numbers.map((number) => ({ switch: number }));

describe('one tap, one chain', () => {
  const chart = columnFour([{ tap: first, steps: steps('42', '41', '44', '43') }]);
  const all = ['41', '42', '43', '44'];
  it('an element serves what lies beyond it', () => {
    for (const id of [`driver ${column(4)}`, `joint ${first}`, `terminal ${first}`, `run ${column(4)} ${first} 42`])
      expect(serves(chart, id)).toEqual(all);
    expect(serves(chart, `run ${column(4)} ${first} 41`)).toEqual(['41', '43', '44']);
    expect(serves(chart, `run ${column(4)} ${first} 44`)).toEqual(['43', '44']);
    expect(serves(chart, `tail ${column(4)} 42`)).toEqual(['42']);
    expect(serves(chart, 'contact 42')).toEqual(['42']);
    expect(serves(chart, 'diode 42')).toEqual(['42']);
  });
  it('the path runs from the driver to the input, contact before diode', () => {
    const path = networkOf(chart).path.get('44') ?? [];
    const own = ['driver', 'joint', 'terminal', 'run', 'run', 'run', 'tail', 'contact', 'diode', 'tail'];
    expect(path.map((id) => id.split(' ')[0]).slice(0, own.length)).toEqual(own);
    expect(path.slice(3, 6)).toEqual([`run ${column(4)} ${first} 42`, `run ${column(4)} ${first} 41`, `run ${column(4)} ${first} 44`]);
    expect(path.at(-1)).toBe(`input ${row(4)}`);
    expect(path.at(-2)).toMatch(/^joint /);
    expect(path.at(-3)).toMatch(/^terminal /);
  });
});

describe('splices', () => {
  const chart = columnFour([{ tap: first, steps: [{ switch: '44' }, { splice: 'S9', branches: [steps('41'), steps('43', '42')] }] }]);
  it('part the line: each branch by itself, the splice all of them', () => {
    expect(serves(chart, `splice ${column(4)} S9`)).toEqual(['41', '42', '43']);
    expect(serves(chart, `run ${column(4)} ${first} 41`)).toEqual(['41']);
    expect(serves(chart, `run ${column(4)} ${first} 43`)).toEqual(['42', '43']);
    expect(serves(chart, `run ${column(4)} ${first} 44`)).toEqual(['41', '42', '43', '44']);
    const path = networkOf(chart).path.get('42') ?? [];
    expect(path.indexOf(`run ${column(4)} ${first} 44`)).toBeLessThan(path.indexOf(`splice ${column(4)} S9`));
    expect(path.indexOf(`splice ${column(4)} S9`)).toBeLessThan(path.indexOf(`run ${column(4)} ${first} 43`));
    expect(path).not.toContain(`run ${column(4)} ${first} 41`);
  });
});

describe('several taps', () => {
  it('are judged apart; the driver serves all', () => {
    expect(taps.length).toBeGreaterThan(1);
    const chart = columnFour([
      { tap: first, steps: steps('41', '42') },
      { tap: second, steps: steps('43', '44') },
    ]);
    expect(serves(chart, `joint ${first}`)).toEqual(['41', '42']);
    expect(serves(chart, `terminal ${second}`)).toEqual(['43', '44']);
    expect(serves(chart, `driver ${column(4)}`)).toEqual(['41', '42', '43', '44']);
    expect(networkOf(chart).path.get('43')).not.toContain(`joint ${first}`);
  });
  it('a switch behind two taps closes a ring: one break there serves nobody', () => {
    const chart = columnFour([
      { tap: first, steps: steps('41', '42', '43') },
      { tap: second, steps: steps('44', '43') },
    ]);
    for (const id of [`joint ${first}`, `terminal ${second}`, `run ${column(4)} ${first} 42`, `run ${column(4)} ${second} 43`])
      expect(serves(chart, id), id).toEqual([]);
    expect(serves(chart, `tail ${column(4)} 43`)).toEqual(['43']);
    expect(serves(chart, `driver ${column(4)}`)).toEqual(['41', '42', '43', '44']);
    expect(
      networkOf(chart)
        .path.get('42')
        ?.filter((id) => /^(joint|terminal|run) /.test(id) && id.includes(first)),
    ).toEqual([]);
  });
  it('a switch that the chart does not place may hang behind any of them, and the chart’s silence is noted', () => {
    const chart = columnFour([{ tap: first, steps: steps('41', '42') }]);
    expect(serves(chart, `joint ${second}`)).toEqual(['43', '44']);
    expect(serves(chart, `joint ${first}`)).toEqual(['41', '42', '43', '44']);
    const note = networkOf(chart).notes.find((text) => text.includes('43'));
    expect(note).toContain(first);
    expect(note).toContain(second);
    expect(note).toContain('43 and 44');
    expect(networkOf(chart).path.get('43')).toEqual(expect.arrayContaining([`joint ${first}`, `joint ${second}`]));
  });
  it('a line without any tap is noted too', () => {
    const bare = {
      ...fixtureDesign,
      headers: fixtureDesign.headers.map((h) => ({ ...h, pins: h.pins.filter((p) => p.net !== column(4)) })),
    };
    const { machine: found } = columnFour([]);
    const network = networkOf(indexChart(found, bare));
    expect(network.notes.join()).toContain('no header position');
    expect(network.path.get('41')).toContain(`driver ${column(4)}`);
  });
});

describe('direct switches', () => {
  it('run from their input through wire and contact; the ground return serves all of them', () => {
    const path = networkOf(lantern).path.get('D2') ?? [];
    expect(path[0]).toBe('input direct.2');
    expect(path).toContain('contact D2');
    expect(path.some((id) => id.startsWith('diode'))).toBe(false);
    expect(serves(lantern, 'ground return')).toEqual(['D1', 'D2', 'D3', 'D4', 'D5', 'D6']);
  });
});

describe('what many share', () => {
  it('emitter supplies serve the optical pairs they feed', () => expect(serves(lantern, 'emitters supply.switch')).toEqual(['71', '75']));
  it('packages serve their lines', () => {
    expect(serves(lantern, 'package U14')).toHaveLength(62);
    expect(serves(lantern, 'package U8')).toEqual(
      lantern.circuits
        .filter((c) => (c.row ?? 9) <= 4)
        .map((c) => c.number)
        .sort(),
    );
    expect(serves(lantern, 'matrix supply')).toHaveLength(62);
  });
  it('a plug serves what no other plug reaches', () => {
    const { elements, path } = networkOf(lantern);
    for (const [id, element] of elements)
      if (id.startsWith('plug '))
        for (const number of path.keys()) {
          const pins = (path.get(number) ?? []).flatMap((one) => elements.get(one)?.pin ?? []);
          if (pins.some((pin) => pin.startsWith(`${element.place}-`))) expect(element.serves.has(number), `${id} ${number}`).toBe(true);
        }
  });
});

describe.each(
  [lantern, kestrel, orchard, ...[1, 2, 3, 4].map((seed) => randomChart(random(seed)))].map((chart) => [chart.title, chart] as const),
)('laws of the network: %s', (_, chart) => {
  const network = networkOf(chart);
  it('an element on a line stands in the path of exactly the switches it serves', () => {
    for (const [id, { serves: served, lines }] of network.elements) {
      if (lines.length !== 1 || /^(plug|package)/.test(id)) continue;
      for (const { number } of network.circuits) expect(network.path.get(number)?.includes(id), `${id} ${number}`).toBe(served.has(number));
    }
  });
  it('S(e) by the definition: what no longer reaches the board once the edge is gone', () => {
    for (const net of new Set(network.circuits.flatMap((c) => c.nets))) {
      const numbers = network.circuits.filter((c) => c.nets.includes(net)).map((c) => c.number);
      const edges = edgesOf(chart, net, numbers);
      expect([...lostWithout(edges, () => false, numbers)]).toEqual([]);
      expect([...lostWithout(edges, ({ from }) => from === board, numbers)].sort()).toEqual([...numbers].sort());
      for (const gone of edges) {
        const lost = lostWithout(edges, (edge) => edge === gone, numbers);
        // Once more, by following the other edges until nothing new is found.
        const reached = new Set([board]);
        for (let size = -1; size !== reached.size; ) {
          size = reached.size;
          for (const edge of edges)
            if (edge !== gone && (reached.has(edge.from) || reached.has(edge.to))) {
              reached.add(edge.from);
              reached.add(edge.to);
            }
        }
        expect([...lost].sort()).toEqual(numbers.filter((number) => !reached.has(`lug ${number}`)).sort());
      }
    }
  });
});
