/** The lint on charts that nobody would write. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { lintDesign, lintMachine } from '@/lib/core/chart';
import type { Finding } from '@/lib/core/chart/types';
import { arbitraryDesign, arbitraryMachine } from './chart-arbitrary';
import { fixtureDesign, fixtureMachine } from './fixture';

fc.configureGlobal({ seed: 46 }); // the same run every time; change it to search further

/** What stands at `headers[2].pins[0].net`. */
const at = (document: unknown, path: string): unknown =>
  path
    .replaceAll('[', '.')
    .replaceAll(']', '')
    .split('.')
    .reduce<unknown>((value, key) => (value as Record<string, unknown> | undefined)?.[key], document);

/** Findings that are not sound: no such level, a path to nothing, or a message with a hole in it. */
const unsound = (findings: Finding[], document: unknown): string[] =>
  findings
    .filter(
      ({ level, path, message, mend }) =>
        !['error', 'warning', 'information'].includes(level) ||
        at(document, path) === undefined ||
        /undefined|NaN|\bnull\b/.test(message) ||
        !/^[A-Z].*\.$/.test(mend),
    )
    .map((f) => `${f.rule} ${f.path}: ${f.message} ${f.mend}`);

describe('lint', () => {
  it('resolves a path as written here', () => {
    expect(at(fixtureDesign, 'headers[2].pins[0].net')).toBe('switch-row.1');
    expect(at(fixtureDesign, 'headers[99].pins[0].net')).toBeUndefined();
  });

  it('never throws on a chart that fits the schema, and each finding stands at something in the document', () => {
    const met = new Map<string, number>();
    fc.assert(
      fc.property(arbitraryDesign, arbitraryMachine, (design, machine) => {
        const ofDesign = lintDesign(design);
        const ofMachine = lintMachine(machine, design);
        for (const { rule } of [...ofDesign, ...ofMachine]) met.set(rule, (met.get(rule) ?? 0) + 1);
        expect([...unsound(ofDesign, design), ...unsound(ofMachine, machine)]).toEqual([]);
      }),
      { numRuns: 300 },
    );
    expect(met.size, 'the charts are odd enough to meet most rules').toBeGreaterThan(45);
  });

  it('does not throw on a good machine held against a strange design, nor the other way round', () => {
    fc.assert(
      fc.property(arbitraryDesign, arbitraryMachine, (design, machine) => {
        expect(unsound(lintMachine(fixtureMachine, design), fixtureMachine)).toEqual([]);
        expect(unsound(lintMachine(machine, fixtureDesign), machine)).toEqual([]);
      }),
      { numRuns: 60 },
    );
  });

  it('says the same of the same chart, whatever the order of its headers', () => {
    fc.assert(
      fc.property(fc.shuffledSubarray(fixtureDesign.headers, { minLength: fixtureDesign.headers.length }), (headers) => {
        expect(lintDesign({ ...fixtureDesign, headers })).toEqual([]);
      }),
      { numRuns: 20 },
    );
  });
});
