/** The terminal of one position: gauge, insulation, plating, current, stock, price. Rules without a source are common practice. */
import { describe, expect, it } from 'vitest';
import type { WireEnd } from '@/lib/core/chart/types';
import { chooseTerminal } from '@/lib/core/harness';
import type { Stock, TerminalPart } from '@/lib/core/parts/schema';
import { terminalPart, wire } from './parts-fixture';

const header = { id: 'A3J4', pitchMm: 2.54, plating: 'tin' } as const;
const S = terminalPart('T-254-S');
const L = terminalPart('T-254-L');
const choose = (wires: WireEnd[], terminals: TerminalPart[] = [S, L], stock: Stock = {}, amps = 0, loaded = 1) =>
  chooseTerminal(7, wires, header, terminals, stock, { amps, loaded });
const said = (c: ReturnType<typeof choose>) => ({ part: c.terminal?.id ?? null, levels: c.problems.map((p) => p.level) });
const good = (part: string) => ({ part, levels: [] });
const refused = { part: null, levels: ['error'] };

describe('one wire', () => {
  it('takes the terminal of its gauge, ends of the range included', () => {
    expect(said(choose([wire(24, 1.3)]))).toEqual(good('T-254-S'));
    expect(said(choose([wire(22, 1.5)]))).toEqual(good('T-254-S'));
    expect(said(choose([wire(30, 0.8)]))).toEqual(good('T-254-S'));
    expect(said(choose([wire(20, 1.8)]))).toEqual(good('T-254-L'));
    expect(said(choose([wire(18, 2.1)]))).toEqual(good('T-254-L'));
  });

  it('refuses a gauge outside every range and names position, wire, ranges and mend', () => {
    const { terminal, problems } = choose([wire(16, 2.4)]);
    expect(terminal).toBeNull();
    expect(problems).toEqual([
      {
        level: 'error',
        position: 7,
        message:
          'A3J4-7, grey/orange 16 AWG: no terminal takes 16 AWG, insulation 2.4 mm: T-254-S takes 22 to 30 AWG; T-254-L takes 18 to 20 AWG.',
        mend: 'Splice a pigtail of a size that fits, or add a terminal for this wire to the catalogue.',
      },
    ]);
    expect(said(choose([wire(32, 0.9)]))).toEqual(refused);
    expect(said(choose([wire(21, 1.6)]))).toEqual(refused); // between the two: not rounded to either
  });

  it('refuses a measured insulation outside the wing, thick or thin', () => {
    expect(said(choose([wire(24, 2.01)]))).toEqual(refused);
    expect(said(choose([wire(24, 0.79)]))).toEqual(refused);
    expect(choose([wire(24, 2.4)]).problems[0]?.message).toContain('T-254-S takes insulation of 0.8 to 2 mm');
  });

  it('warns on an estimated insulation, and refuses only beyond the error of an estimate', () => {
    const guess = (mm: number) => wire(24, mm, { insulationKnown: false });
    expect(said(choose([guess(1.3)]))).toEqual(good('T-254-S'));
    const near = choose([guess(2.2)]);
    expect(said(near)).toEqual({ part: 'T-254-S', levels: ['warning'] });
    expect(near.problems[0]).toMatchObject({
      message: expect.stringContaining('only an estimate'),
      mend: expect.stringMatching(/^Measure/),
    });
    expect(said(choose([guess(0.5)]))).toEqual({ part: 'T-254-S', levels: ['warning'] });
    expect(said(choose([guess(2.6)]))).toEqual(refused);
    expect(said(choose([guess(0.25)]))).toEqual(refused);
  });

  it('refuses solid wire and solid with stranded', () => {
    expect(choose([wire(24, 1.3, { strands: 1 })]).problems[0]).toMatchObject({
      level: 'error',
      message: expect.stringContaining('A3J4-7, grey/orange 24 AWG: a crimp does not hold solid wire'),
      mend: expect.stringContaining('pigtail'),
    });
    const both = choose([wire(26, 1, { strands: 1 }), wire(26, 1, { strands: 7 })]);
    expect(said(both)).toEqual(refused);
    expect(both.problems[0]?.message).toContain('a solid and a stranded wire');
    expect(both.problems[0]?.mend).toContain('pigtail');
  });
});

describe('two wires', () => {
  it('count by their area together, not rounded', () => {
    expect(choose([wire(22, 1.4), wire(22, 1.4)]).terminal?.id).toBe('T-254-L'); // 19.01 in 18 to 20
    expect(choose([wire(26, 0.9), wire(26, 0.9)]).terminal?.id).toBe('T-254-S'); // 23.01 in 22 to 30
    const between = choose([wire(24, 1), wire(24, 1)]); // 21.01: past 20 and a quarter over 22 by area
    expect(said(between)).toEqual(refused);
    expect(between.problems[0]).toMatchObject({
      message: expect.stringContaining('no terminal takes 21.01 AWG together, insulation 1 + 1 mm'),
      mend: expect.stringContaining('pigtail'),
    });
  });

  it('over the thickest by up to 3 % of area: a sample first; by more: no', () => {
    const over = choose([wire(22, 1.4), wire(20, 1.5)]); // 17.90: 2.4 % over 18
    expect(over.terminal?.id).toBe('T-254-L');
    expect(over.problems[0]).toMatchObject({
      level: 'warning',
      position: 7,
      message: expect.stringMatching(/^A3J4-7, .*17\.90 AWG together is over the 18 AWG of T-254-L by 2\.\d % of area/),
      mend: expect.stringContaining('Pull-test a sample'),
    });
    expect(said(choose([wire(20, 1.5), wire(20, 1.5)]))).toEqual(refused); // 17.01
    expect(said(choose([wire(18, 1.5), wire(22, 1.4)]))).toEqual(refused); // 16.56
  });

  it('says in words that they are outside the maker’s rating, unless it is not', () => {
    const one = choose([wire(22, 1.4), wire(22, 1.4)]);
    expect(one.problems).toHaveLength(1);
    expect(one.problems[0]?.message).toContain('two wires in T-254-L are outside the maker’s rating of one wire');
    expect(one.problems[0]?.mend).not.toContain('innermost');
    expect(choose([wire(22, 1.4), wire(22, 1.4)], [{ ...L, ratedWires: 2 }]).problems).toEqual([]);
    expect(choose([wire(26, 0.9), wire(28, 0.9)]).problems[0]?.mend).toContain('smallest innermost');
    expect(choose([wire(28, 0.6), wire(28, 0.6), wire(28, 0.6)]).problems[0]?.message).toContain('three wires in T-254-S');
  });

  it('side by side in the wing: good; only bundled: try and inspect; else no', () => {
    const rated = [{ ...L, ratedWires: 2 }]; // wing up to 3 mm
    expect(said(choose([wire(22, 1.5), wire(22, 1.5)], rated))).toEqual(good('T-254-L'));
    const bundled = choose([wire(22, 1.6), wire(22, 1.5)], rated);
    expect(said(bundled)).toEqual({ part: 'T-254-L', levels: ['warning'] });
    expect(bundled.problems[0]).toMatchObject({
      message: expect.stringContaining('insulation of 3.1 mm side by side is over the 3 mm of T-254-L'),
      mend: expect.stringContaining('inspect'),
    });
    expect(choose([wire(22, 2.1), wire(22, 2.1)], rated).terminal?.id).toBe('T-254-L'); // √(2.1² + 2.1²) = 2.97
    expect(said(choose([wire(22, 2.2), wire(22, 2.2)], rated))).toEqual(refused); // 3.11
    expect(said(choose([wire(22, 1.1), wire(22, 2.2)], [{ ...L, ratedWires: 2, insulationMm: [1.3, 3.3] }]))).toEqual(good('T-254-L'));
  });
});

describe('the choice', () => {
  it('keeps to the plating and the pitch of the header', () => {
    const gold = choose([wire(24, 1.3)], [terminalPart('T-254-AU')]);
    expect(gold.problems[0]?.message).toContain('the header is tin, and there is no tin terminal of 2.54 mm');
    expect(chooseTerminal(1, [wire(24, 1.3)], { ...header, plating: 'gold' }, [S, terminalPart('T-254-AU')], {}).terminal?.id).toBe(
      'T-254-AU',
    );
    expect(choose([wire(24, 1.3)], [terminalPart('T-396-S')]).problems[0]?.message).toContain('no terminal of 2.54 mm');
  });

  it('prefers what is on hand, then the cheaper piece, then the id', () => {
    const dear = { ...S, id: 'T-A', packPence: 900 };
    const cheap = { ...S, id: 'T-B', packPence: 700, pack: 100 };
    const small = { ...S, id: 'T-C', packPence: 100, pack: 10 }; // dearer by the piece
    const unpriced = { ...S, id: 'T-D', packPence: undefined };
    const of = (terminals: TerminalPart[], stock: Stock = {}) => choose([wire(24, 1.3)], terminals, stock).terminal?.id;
    expect(of([dear, cheap, small, unpriced])).toBe('T-B');
    expect(of([unpriced, small])).toBe('T-C');
    expect(of([dear, cheap], { 'T-A': 1 })).toBe('T-A');
    expect(of([{ ...dear, id: 'T-Z' }, dear])).toBe('T-A');
  });

  it('prefers one that fits without remarks even when another is on hand', () => {
    const rated = { ...L, id: 'T-TWO', ratedWires: 2, packPence: 9000 };
    const choice = choose([wire(22, 1.4), wire(22, 1.4)], [L, rated], { 'T-254-L': 9 });
    expect(said(choice)).toEqual(good('T-TWO'));
  });

  it('refuses a current beyond the maker’s rating', () => {
    expect(said(choose([wire(20, 1.8)], [S, L], {}, 4))).toEqual(good('T-254-L'));
    const over = choose([wire(20, 1.8)], [S, L], {}, 4.2);
    expect(said(over)).toEqual(refused);
    expect(over.problems[0]).toMatchObject({
      message: expect.stringMatching(/at 4\.2 A: .*T-254-L is rated 4 A/),
      mend: expect.stringContaining('more positions'),
    });
  });
});
