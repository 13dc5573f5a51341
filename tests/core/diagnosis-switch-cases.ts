/** Arbitrary evidence on a chart, near one switch as people gather it: presses, looks at rest, holds, results of bench tests. */
import fc from 'fast-check';
import type { Seen } from '@/lib/core/diagnosis/switch/case';
import { probeOf, testsFor } from '@/lib/core/diagnosis/switch/probes';
import type { Wiring } from '@/lib/core/diagnosis/switch/wiring';
import type { Observation, Result } from '@/lib/core/diagnosis/types';

export interface Kinds {
  rest: boolean; // looks at switches that are open at rest
  hold: boolean;
  results: boolean;
}
export const usual: Kinds = { rest: true, hold: false, results: true };

export function arbitrarySeen(wiring: Wiring, { rest, hold, results }: Kinds = usual): fc.Arbitrary<Seen> {
  const numbers = wiring.cells.map((cell) => cell.number);
  return fc.constantFrom(...wiring.cells.filter((cell) => cell.column >= 0)).chain((base) => {
    const near = wiring.cells.filter((c) => c.column >= 0 && (c.column === base.column || c.row === base.row)).map((c) => c.number);
    const one = fc.oneof({ arbitrary: fc.constantFrom(...near), weight: 4 }, { arbitrary: fc.constantFrom(...numbers), weight: 1 });
    const open = near.filter((number) => !wiring.normallyClosed.has(number));
    const presses: fc.Arbitrary<Observation> = fc
      .record({
        number: one,
        presses: fc.constantFrom(1, 3, 5, 10),
        share: fc.constantFrom(0, 0, 0.3, 1),
        how: fc.constantFrom('hand', 'ball'),
      })
      .chain(({ share, ...press }) =>
        fc
          .oneof({ arbitrary: fc.constant<string[]>([]), weight: 6 }, { arbitrary: one.map((number) => [number]), weight: 1 })
          .map((others) => ({
            ...press,
            kind: 'presses' as const,
            missed: Math.round(share * press.presses),
            others: others.filter((n) => n !== press.number),
          })),
      );
    const look: fc.Arbitrary<Observation> = fc.record({
      kind: fc.constant('rest' as const),
      number: fc.constantFrom(...open),
      reads: fc.constantFrom('active', 'inactive'),
    });
    const held: fc.Arbitrary<Observation> = fc
      .tuple(fc.uniqueArray(fc.constantFrom(...open), { minLength: 3, maxLength: 3 }), fc.boolean(), fc.constantFrom(...open))
      .map(([three, clean, other]) => ({
        kind: 'hold' as const,
        held: three,
        shown: clean ? three : [...new Set([...three.slice(0, 2), other])],
      }));
    const ids = testsFor(wiring, base.number, { alwaysOn: true });
    const result: fc.Arbitrary<Result> = fc
      .constantFrom(...ids)
      .chain((test) => fc.constantFrom(...(probeOf(wiring, test)?.outcomes ?? [])).map((outcome) => ({ test, saw: outcome.id })));
    return fc
      .record({
        presses: fc.array(presses, { minLength: 1, maxLength: 5 }),
        rest: fc.array(look, { maxLength: rest ? 1 : 0 }),
        hold: fc.array(held, { minLength: hold ? 1 : 0, maxLength: hold ? 1 : 0 }),
        results: fc.uniqueArray(result, { maxLength: results ? 2 : 0, selector: (r) => r.test }),
      })
      .map((seen) => ({ observations: [...seen.presses, ...seen.rest, ...seen.hold], results: seen.results, done: [] }));
  });
}
