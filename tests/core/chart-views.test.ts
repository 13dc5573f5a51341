/**
 * The four end views of a mated pair. Geometry, reasoned from two halves that face each other; designators after ASME Y14.44 (J fixed,
 * P movable; from memory).
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type EndView,
  endsOf,
  endViews,
  firstInWords,
  housingName,
  lampsOf,
  loadsOf,
  netTitle,
  orderOf,
  pathsOf,
  splitPin,
  switchesOf,
} from '@/lib/core/chart';
import { fixtureChart } from './fixture';

fc.configureGlobal({ seed: 46 }); // the same run every time; change it to search further

const views = Object.keys(endViews) as EndView[];
const positions = fc.integer({ min: 1, max: 60 });

describe('orderOf', () => {
  it('H1 and P1 show one order, H2 and P2 the other', () => {
    fc.assert(
      fc.property(positions, (n) => {
        expect(orderOf(n, 'H1')).toEqual(orderOf(n, 'P1'));
        expect(orderOf(n, 'H2')).toEqual(orderOf(n, 'P2'));
        if (n > 1) expect(orderOf(n, 'P1')).not.toEqual(orderOf(n, 'P2'));
        else expect(orderOf(n, 'P1')).toEqual(orderOf(n, 'P2'));
      }),
    );
  });

  it('mirroring twice is doing nothing', () => {
    fc.assert(
      fc.property(positions, fc.constantFrom(...views), (n, view) => {
        const mirror = (order: number[]) => order.map((p) => n + 1 - p);
        expect(mirror(mirror(orderOf(n, view)))).toEqual(orderOf(n, view));
        const other = endViews[view].mirrored ? 'H1' : 'H2';
        expect(mirror(orderOf(n, view))).toEqual(orderOf(n, other));
        expect([...orderOf(n, view)].sort((a, b) => a - b)).toEqual(Array.from({ length: n }, (_, i) => i + 1));
      }),
    );
  });

  it('names the views', () => {
    expect(views.map((v) => endViews[v].name)).toEqual([
      'Pin tips',
      'Solder side',
      'Wire entry',
      'Contact openings',
      'Wire entry',
      'Pin tips',
    ]);
  });
});

describe('names', () => {
  it('knows mate, pin and line', () => {
    expect(housingName('A3J4')).toBe('A3P4');
    expect(splitPin('A3J4-7')).toEqual({ header: 'A3J4', position: 7 });
    expect(splitPin('A3P4-7')).toBeNull();
    const titles = ['switch-column.4', 'switch-row.6', 'direct.2', 'lamp-row.1', 'load.2', 'supply.coil', 'ground', 'other.gone'];
    expect(titles.map((id) => netTitle(fixtureChart, id))).toEqual([
      'Column 4',
      'Row 6',
      'Direct 2',
      'Lamp row 1',
      'Load 2',
      'Coil supply',
      'Ground',
      'other.gone',
    ]);
  });
});

describe('chains', () => {
  const steps = [
    { switch: '11' },
    { splice: 'S1', branches: [[{ switch: '12' }], [{ splice: 'S2', branches: [[{ switch: '13' }, { switch: '14' }]] }]] },
  ];
  it('lists the switches in order from the board', () => expect(switchesOf(steps)).toEqual(['11', '12', '13', '14']));
  it('tells the joints passed on the way to each', () => {
    expect(Object.fromEntries(pathsOf(steps))).toEqual({
      '11': ['11'],
      '12': ['11', 'splice S1', '12'],
      '13': ['11', 'splice S1', 'splice S2', '13'],
      '14': ['11', 'splice S1', 'splice S2', '13', '14'],
    });
  });
  it('keeps switches, loads and lamps apart', () => {
    const mixed = [{ load: 'L3' }, { splice: 'S1', branches: [[{ load: 'L4' }, { lamp: '11' }], [{ switch: '11' }]] }];
    expect([switchesOf(mixed), loadsOf(mixed), lampsOf(mixed)]).toEqual([['11'], ['L3', 'L4'], ['11']]);
    expect(endsOf(mixed).map((e) => e.kind)).toEqual(['load', 'load', 'lamp', 'switch']);
    expect(Object.fromEntries(pathsOf(mixed))).toEqual({ '11': ['L3', 'splice S1', '11'] });
    expect(Object.fromEntries(pathsOf(mixed, 'lamp'))).toEqual({ '11': ['L3', 'splice S1', 'L4', '11'] });
    expect(firstInWords(mixed, (number, kind) => `${kind} ${number}`)).toBe('L3 load L3');
  });
  it('says the first thing in words', () => {
    const nameOf = (n: string) => (n === '11' ? 'Coin left' : '');
    expect(firstInWords(steps, nameOf)).toBe('11 Coin left');
    expect(firstInWords(steps.slice(1), nameOf)).toBe('Splice S1, then 12 and splice S2');
    expect(firstInWords([], nameOf)).toBe('');
  });
});
