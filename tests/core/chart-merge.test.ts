/** Two people's changes of one chart: laws of comparing and joining. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { differences, patched } from '@/lib/core/chart/differences';
import { merge } from '@/lib/core/chart/merge';
import { type BoardDesign, boardDesign, type Machine, machine } from '@/lib/core/chart/schema';
import sb2Json from '../../content/designs/sb-2.json';
import regattaJson from '../../content/machines/lantern-regatta-3.json';
import { arbitraryDesign, arbitraryMachine } from './chart-arbitrary';

const regatta = machine.parse(regattaJson);
const sb2 = boardDesign.parse(sb2Json);
const plain = <T>(chart: T): T => JSON.parse(JSON.stringify(chart)) as T;
const eachKind = <T extends BoardDesign | Machine>(name: string, arb: fc.Arbitrary<T>) =>
  ({ name, arb }) as unknown as { name: string; arb: fc.Arbitrary<Machine> };

describe.each([eachKind('machines', arbitraryMachine), eachKind('board designs', arbitraryDesign)])('$name', ({ arb }) => {
  it('differences made to the one give the other', () => {
    fc.assert(
      fc.property(arb, arb, (a, b) => {
        expect(patched(plain(a), differences(a, b))).toEqual(plain(b));
      }),
      { numRuns: 150 },
    );
  });
  it('a chart does not differ from itself', () => {
    fc.assert(
      fc.property(arb, (a) => {
        expect(differences(a, plain(a))).toEqual([]);
      }),
      { numRuns: 50 },
    );
  });
  it('who changed nothing takes the other’s, and equal changes are one', () => {
    fc.assert(
      fc.property(arb, arb, (b, x) => {
        for (const [mine, theirs] of [
          [b, x],
          [x, b],
          [x, x],
        ] as const) {
          const joined = merge(b, mine, theirs);
          expect(joined.ok && joined.chart).toEqual(plain(x));
        }
      }),
      { numRuns: 150 },
    );
  });
  it('joining is the same from both sides, cell by cell, or refused from both', () => {
    fc.assert(
      fc.property(arb, arb, arb, (b, m, t) => {
        const [one, two] = [merge(b, m, t), merge(b, t, m)];
        expect(one.ok).toBe(two.ok);
        if (one.ok && two.ok) {
          const cells = differences(one.chart, two.chart).filter(({ path }) => path.at(-1) !== '↕');
          expect(cells).toEqual([]);
        } else if (!one.ok && !two.ok) expect(one.conflicts.map((c) => c.label).sort()).toEqual(two.conflicts.map((c) => c.label).sort());
      }),
      { numRuns: 150 },
    );
  });
});

describe('two at one machine', () => {
  const named = (chart: Machine, index: number, name: string): Machine => ({
    ...chart,
    switches: chart.switches.map((s, i) => (i === index ? { ...s, name } : s)),
  });

  it('changes of different switches both stand', () => {
    const joined = merge(regatta, named(regatta, 3, 'Left gate'), named(regatta, 9, 'Right gate'));
    expect(joined.ok && [joined.chart.switches[3]?.name, joined.chart.switches[9]?.name]).toEqual(['Left gate', 'Right gate']);
    expect(joined.ok && machine.safeParse(joined.chart).success).toBe(true);
    expect(joined.ok && joined.taken.map((c) => c.after)).toEqual(['Right gate']);
  });

  it('the same cell changed twice is named, with both values', () => {
    const { column, row, name } = regatta.switches[3]!;
    const joined = merge(regatta, named(regatta, 3, 'Left gate'), named(regatta, 3, 'Port gate'));
    expect(joined).toEqual({
      ok: false,
      conflicts: [
        {
          path: ['switches', `=${column}·${row}`, 'name'],
          label: `Switch at column ${column}, row ${row}: name`,
          base: name,
          mine: 'Left gate',
          theirs: 'Port gate',
        },
      ],
    });
  });

  it('a switch taken out by one and changed by the other is a conflict of that switch', () => {
    const without = { ...regatta, switches: regatta.switches.filter((_, i) => i !== 3) };
    const joined = merge(regatta, without, named(regatta, 3, 'Left gate'));
    expect(joined.ok ? [] : joined.conflicts.map((c) => [c.label, c.mine])).toEqual([
      [`Switch at column ${regatta.switches[3]!.column}, row ${regatta.switches[3]!.row}`, undefined],
    ]);
  });

  it('rows that both put in stand behind what they stood behind', () => {
    const add = (number: string, name: string): Machine => ({
      ...regatta,
      loads: [...regatta.loads, { number, name, kind: 'coil', net: regatta.loads[0]!.net, supply: regatta.loads[0]!.supply }],
    });
    const joined = merge(regatta, add('L98', 'Bell'), add('L99', 'Gong'));
    expect(
      joined.ok &&
        joined.chart.loads
          .slice(-2)
          .map((l) => l.number)
          .sort(),
    ).toEqual(['L98', 'L99']);
    expect(joined.ok && joined.chart.loads.slice(0, -2)).toEqual(plain(regatta.loads));
  });

  it('cells of a board design are named as a technician would', () => {
    const pin = sb2.headers[0]!.pins[0]!;
    const changed = plain(sb2);
    changed.headers[0]!.pins[0]!.net = 'ground';
    expect(differences(sb2, changed).map((c) => c.label)).toEqual([`Header ${sb2.headers[0]!.id}: position ${pin.position}, net`]);
  });
});
