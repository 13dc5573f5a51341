/** In-line connectors in the fault finder: what of them can fail, which switches that takes along, the tests that find it. Wiring and figures are invented. */
import { describe, expect, it } from 'vitest';
import { type Chart, indexChart } from '@/lib/core/chart';
import { type InlineConnector, type KeysFound, machine } from '@/lib/core/chart/schema';
import { findLoadFault } from '@/lib/core/diagnosis';
import { findFault } from '@/lib/core/diagnosis/switch/find';
import { faultSpace } from '@/lib/core/diagnosis/switch/modes';
import { networkOf } from '@/lib/core/diagnosis/switch/network';
import { probeOf, testsFor } from '@/lib/core/diagnosis/switch/probes';
import type { Observation } from '@/lib/core/diagnosis/types';
import { grid } from '../simulator/charts';
import { closedNumbers, column, orchard, wiringFor } from './diagnosis-switch-charts';

const shape: Omit<InlineConnector, 'id'> = {
  positions: 4,
  pitchMm: 2.54,
  keys: [],
  plating: 'tin',
  termination: 'crimp',
  lock: 'none',
};
/** A grid of four by four, its columns through X1 after the first switch, its rows through X2. */
function parted(columns: Partial<InlineConnector> = {}, rows: Partial<InlineConnector> = {}, found: Partial<KeysFound>[] = []): Chart {
  const plain = grid(4, 4);
  const inline = [
    { ...shape, ...columns, id: 'X1' },
    { ...shape, ...rows, id: 'X2' },
  ];
  const inlinePins = [1, 2, 3, 4].flatMap((n) => [
    { pin: `X1-${n}`, net: column(n) },
    { pin: `X2-${n}`, net: `switch-row.${n}` },
  ]);
  const chains = plain.machine.chains.map(({ tap, steps: [first, ...rest] }) => {
    const pin = `${tap.startsWith('A1J1') ? 'X1' : 'X2'}-${tap.split('-')[1]}`;
    return { tap, steps: [first, { inline: pin }, ...rest] };
  });
  const keysAsFound = found.map((keys) => ({ header: 'X1', on: '2026-02-01', by: 'Ines Okafor', ...keys }));
  return indexChart(machine.parse({ ...plain.machine, inline, inlinePins, chains, keysAsFound }), plain.design);
}
const told = (chart: Chart) =>
  faultSpace(networkOf(chart), { done: [], counts: {} })
    .modes.filter(({ kind }) => /^housings? (shifted|turned|elsewhere|exchanged)/.test(kind))
    .map(({ element, words }) => `${element}: ${words}`)
    .filter((line) => line.includes('X'));
const press = (number: string, missed: number, others: string[] = []): Observation => ({
  kind: 'presses',
  number,
  presses: 5,
  missed,
  how: 'hand',
  others,
});

describe('the contact of an in-line connector', () => {
  it('is an element that takes along what is beyond it, and the connector one that takes all', () => {
    const { elements, path } = networkOf(orchard);
    expect([...(elements.get('inline X1-1')?.serves ?? [])]).toEqual(['13', '14', '15', '16']);
    expect(elements.get('inline X1-1')).toMatchObject({ name: 'Contact X1-1', fault: 'worn-contact', group: 'X1' });
    expect([...(elements.get('plug X1')?.serves ?? [])].sort()).toEqual(['13', '14', '15', '16', '53', '54', '55', 'D4']);
    const way = path.get('13') ?? [];
    expect(way.indexOf('terminal A1J10-1')).toBeLessThan(way.indexOf('inline X1-1'));
    expect(way.indexOf('inline X1-1')).toBeLessThan(way.indexOf('contact 13'));
  });

  it('is what is left when all before it answers and all beyond it is dead', () => {
    const chart = parted();
    const seen = [press('21', 0), press('22', 5), press('23', 5), press('24', 5), press('12', 0), press('32', 0)];
    const { suspects } = findFault(chart, { observations: seen, results: [], done: [] });
    expect(suspects.slice(0, 3).map((s) => s.id)).toContain('inline X1-2');
  });

  it('has tests that part it: the way beyond clears nothing before it', () => {
    const wiring = wiringFor(orchard);
    expect(testsFor(wiring, '14', { alwaysOn: false })).toEqual(
      expect.arrayContaining(['wiggle X1-1 14', 'continuity X1-1 14', 'parted X1-1', 'plug X1']),
    );
    const beyond = probeOf(wiring, 'continuity X1-1 14');
    expect(beyond?.title).toBe(
      'Part X1 and measure from position 1 of its far half to the column 2 lug of 14: below 1 Ω, also while you move the wire.',
    );
    const modes = faultSpace(networkOf(orchard), { done: [], counts: {} }).modes;
    const open = (element: string) => {
      const mode = modes.find((m) => m.element === element && m.behaviour === 'hard');
      return Math.round(10 * (beyond?.chance(mode ? [mode] : [])[1] ?? 0)) / 10;
    };
    expect([open('terminal A1J10-1'), open('inline X1-1'), open('run switch-column.2 A1J10-1 14')]).toEqual([0, 0, 1]);
    expect(probeOf(wiring, 'plug X1')?.title).toContain('Look at X1 (under the cart rail, left end): its own two halves');
  });

  it('fails for loads too', () => {
    const design = { ...orchard.design };
    const chart = indexChart(
      machine.parse({
        ...orchard.machine,
        inline: [...(orchard.machine.inline ?? []), { ...shape, id: 'X5', positions: 2 }],
        inlinePins: [...(orchard.machine.inlinePins ?? []), { pin: 'X5-1', net: 'load.4' }],
        chains: [...orchard.machine.chains, { tap: chartTap('load.4'), steps: [{ inline: 'X5-1' }, { load: 'L4' }] }],
      }),
      design,
    );
    const found = findLoadFault(chart, {
      seen: [
        { load: 'L4', shows: 'dead' },
        { load: 'L5', shows: 'fires' },
      ],
      results: [],
    });
    expect(found.shares.get('inline X5-1')).toBeGreaterThan(0);
  });
});
const chartTap = (net: string) => orchard.taps.get(net)?.[0]?.pin ?? '';

describe('halves in the wrong place', () => {
  it('all of them for two bare connectors of one size', () => {
    expect(told(parted()).sort()).toEqual(
      [
        'plug X1: one position up',
        'plug X1: one position down',
        'plug X1: turned round',
        'plug X1: on X2, whose own far half is off',
        'plug X2: one position up',
        'plug X2: one position down',
        'plug X2: turned round',
        'plug X2: on X1, whose own far half is off',
        'plugs X1 X2: exchanged',
      ].sort(),
    );
  });
  it('none where a shroud holds them; contacts of the same sort do not meet', () => {
    expect(told(parted({ lock: 'shroud' }, { lock: 'shroud', pinsOn: 'board' }))).toEqual([]);
  });
  it.each([
    // The socket of position 4 is plugged: it passes over a missing pin or beyond the end. It is on the half that the pins are not on.
    ['far', ['plug X1: one position down']],
    ['board', ['plug X1: one position up']],
  ] as const)('a key at the end lets it go one way only, pins on the %s half', (pinsOn, expected) => {
    const chart = parted({ lock: 'friction', keys: [4], pinsOn }, { positions: 5, lock: 'shroud' });
    expect(told(chart)).toEqual(expected);
  });
  it('a key that somebody found missing lets it go both ways', () => {
    const chart = parted({ lock: 'friction', keys: [4] }, { positions: 5, lock: 'shroud' }, [{ plug: [] }]);
    expect(told(chart)).toEqual(['plug X1: one position up', 'plug X1: one position down']);
  });

  it('brings up the wrong number beyond it, and leaves what is before it', () => {
    const wiring = wiringFor(parted());
    const shifted = [{ does: 'shifted', header: 'X1', by: 1 } as const];
    expect(closedNumbers(wiring, shifted, ['11'])).toEqual(['11']);
    expect(closedNumbers(wiring, shifted, ['12'])).toEqual(['22']);
    expect(closedNumbers(wiring, shifted, ['42'])).toEqual([]);
    expect(closedNumbers(wiring, [{ does: 'turned', header: 'X2' }], ['23'])).toEqual(['22']);
    expect(closedNumbers(wiring, [{ does: 'exchanged', header: 'X1', lines: [column(1), column(2)] }], ['13'])).toEqual(['23']);
  });

  it('says how it is put right', () => {
    const seen = [press('12', 5, ['22']), press('23', 5, ['33']), press('11', 0)];
    const { suspects } = findFault(parted(), { observations: seen, results: [], done: ['plug-off'] });
    expect(suspects[0]).toMatchObject({ id: 'plug X1', how: 'one position up', fault: 'misplaced-plug' });
    expect(suspects[0]?.mend).toBe(
      'Mains plug out. Part X1 and put its halves together again, position 1 to position 1. Mark both halves before they come apart again.',
    );
  });
});
