/** The load check. Its rules are common practice without a source unless marked; figures of copper are checked in tests/reference/awg.test.ts. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Net } from '@/lib/core/chart/schema';
import { deratedAmps, deratingOf, type PlanChoices, planConnector, rms } from '@/lib/core/harness';
import { dropVolts } from '@/lib/core/harness/load';
import { safeAmps } from '@/lib/core/wire';
import { chartWith, fixtureCatalogue, fixtureStock, terminalPart } from './parts-fixture';

fc.configureGlobal({ seed: 1986 });
const choices: PlanChoices = { headerSide: 'sound', saveKey: true };
const supply: Net = {
  id: 'supply.fan',
  kind: 'supply',
  name: 'Fan',
  colour: 'orange',
  awg: 20,
  insulationMm: 1.8,
  volts: 12,
  supply: 'dc',
  amps: 3,
};

function planOf(net: Partial<Net>, positions: number[] = [1], more: { position: number; net: string }[] = []) {
  const pins = [...positions.map((position) => ({ position, net: supply.id })), ...more];
  const chart = chartWith({ positions: 16, pins }, [{ ...supply, ...net }]);
  const result = planConnector(chart, 'A9J1', fixtureCatalogue, fixtureStock, choices);
  if (!result.ok) throw new Error(result.message);
  return result.plan;
}
const loadOf = (...args: Parameters<typeof planOf>) => {
  const [row] = planOf(...args).loads;
  if (!row) throw new Error('no load');
  return row;
};
const said = (...args: Parameters<typeof planOf>) => planOf(...args).problems.map((p) => p.message);

describe('current', () => {
  it('is r.m.s. where a line pulses: I·√duty', () => {
    expect(rms(4, 0.25)).toBe(2);
    expect(rms(4)).toBe(4);
    expect(loadOf({ amps: 3, duty: 0.25 }).amps).toBeCloseTo(1.5, 12);
    expect(said({ amps: 6 })[0]).toContain('at 6 A');
    expect(said({ amps: 6, duty: 0.25 })).toEqual([]); // 3 A r.m.s.
  });

  it('is split over the positions of the line, the worst 1.3 of the mean', () => {
    expect(loadOf({ amps: 4 }, [1, 2])).toMatchObject({ amps: 2.6, sharedBy: 2 });
    expect(loadOf({ amps: 3 }, [1, 2, 3]).amps).toBeCloseTo(1.3, 12);
    expect(loadOf({ amps: 3 })).toMatchObject({ amps: 3, sharedBy: 1 });
  });

  it('that the chart does not give is not made up', () => {
    expect(loadOf({ amps: undefined })).toMatchObject({ amps: null, drop: null, level: 'unknown' });
  });

  it('of switch lines is no load', () => {
    expect(planOf({}, [1], [{ position: 2, net: 'switch-row.1' }]).loads.map((l) => l.position)).toEqual([1]);
  });
});

describe('derating by loaded positions', () => {
  it('goes by the part’s own table, else by the common one', () => {
    const own = terminalPart('T-254-L', { derate: [[2, 0.5]] });
    expect([1, 2, 9].map((n) => deratedAmps(own, n))).toEqual([4, 2, 2]);
    expect([1, 2, 3, 7, 13, 25].map((n) => deratingOf(terminalPart('T-254-L'), n))).toEqual([1, 1, 0.9, 0.8, 0.7, 0.6]);
  });

  it('counts positions of lines that carry, not switch lines, and refuses what is over', () => {
    const switches = [3, 4, 5, 6, 7, 8, 9].map((position) => ({ position, net: 'switch-row.1' }));
    expect(loadOf({ amps: 3.9 }, [1], switches)).toMatchObject({ derating: { loaded: 1, factor: 1 }, terminalAmps: 4 });
    const lamps = [3, 4, 5, 6, 7, 8].map((position) => ({ position, net: 'lamp-row.1' }));
    const plan = planOf({ amps: 3.3 }, [1], lamps); // 4 A × 0.8
    expect(plan.rows[0]?.terminal).toBeNull();
    expect(plan.rows[0]?.problems[0]).toMatchObject({
      level: 'error',
      position: 1,
      message: expect.stringMatching(/^A9J1-1, orange 20 AWG: .*T-254-L is rated 4 A, 3\.2 A with 7 positions loaded/),
      mend: expect.stringContaining('more positions'),
    });
    expect(plan.loads[0]?.level).toBe('error');
    expect(planOf({ amps: 3.2 }, [1], lamps).rows[0]?.terminal?.part).toBe('T-254-L');
  });

  it('never rises with their number, whatever the table', () => {
    const table = fc.array(
      fc.tuple(
        fc.integer({ min: 1, max: 40 }),
        fc.integer({ min: 1, max: 100 }).map((p): number => p / 100),
      ),
      { maxLength: 6 },
    );
    fc.assert(
      fc.property(fc.option(table, { nil: undefined }), fc.integer({ min: 1, max: 40 }), (derate, loaded) => {
        const part = { amps: 5, ...(derate && { derate }) };
        expect(deratedAmps(part, loaded + 1)).toBeLessThanOrEqual(deratedAmps(part, loaded));
        expect(deratedAmps(part, loaded)).toBeLessThanOrEqual(5);
        expect(deratedAmps(part, loaded)).toBeGreaterThan(0);
      }),
    );
  });
});

describe('voltage drop', () => {
  it('counts out and back: 5 A over 3 m of 18 AWG at 20.9 mΩ/m is 0.63 V', () => {
    expect(dropVolts(5, 18, 3)).toBeCloseTo(5 * 6 * 0.0209, 2);
    expect(loadOf({ runMetres: 2 }).drop).toMatchObject({
      metres: 2,
      volts: expect.closeTo(3 * 4 * 0.0333, 2),
      percent: expect.closeTo(3.33, 1),
    });
  });

  it('goes by the copper of the strands where they are known: 7 of 30 AWG have 9.5 % more than 22 AWG', () => {
    const drop = (more: object) => {
      const pins = [{ position: 1, net: 'supply.extra', wires: [{ awg: 22, ...more }] }];
      const net = { id: 'supply.extra', kind: 'supply', colour: 'orange', awg: 22, volts: 12, amps: 2, runMetres: 2 } as const;
      const result = planConnector(chartWith({ positions: 9, pins }, [net]), 'A9J1', fixtureCatalogue, fixtureStock, choices);
      if (!result.ok) throw new Error(result.message);
      return result.plan.loads[0]?.drop?.volts ?? 0;
    };
    expect(drop({ strands: 7 })).toBe(drop({}));
    expect(drop({}) / drop({ strands: 7, strandAwg: 30 })).toBeCloseTo(1.095, 3); // table of strandings in tests/reference/awg.json
    expect(drop({}) / drop({ strands: 7, strandAwg: 30, strandMm: 0.254 })).toBeCloseTo((7 * 0.254 ** 2) / 0.6438 ** 2, 3);
  });

  it('warns above 5 % of the line’s volts, by wire, position and mend', () => {
    expect(planOf({ runMetres: 3 }).problems).toEqual([]); // 0.599 V of 12: 4.996 %
    expect(planOf({ runMetres: 3.1 }).problems).toMatchObject([
      {
        level: 'warning',
        position: 1,
        message: expect.stringMatching(/^A9J1-1, orange 20 AWG: 0\.62 V, 5\.2 % of its volts, are lost over 3\.1 m out and back/),
        mend: expect.stringMatching(/thicker wire.*Measure it under load/),
      },
    ]);
    expect(loadOf({ runMetres: 3.1 }).level).toBe('warning');
  });

  it('counts the current while it is on, not its r.m.s.', () => {
    expect(loadOf({ runMetres: 2, duty: 0.25 }).drop?.volts).toBe(loadOf({ runMetres: 2 }).drop?.volts);
  });

  it('has no percent without volts, and no drop without a run', () => {
    expect(loadOf({ runMetres: 9, volts: undefined }).drop?.percent).toBeNull();
    expect(loadOf({}).drop).toBeNull();
  });

  it('is linear in the run and in the current', () => {
    const amount = fc.integer({ min: 1, max: 1000 }).map((n) => n / 100);
    fc.assert(
      fc.property(amount, amount, fc.integer({ min: 10, max: 30 }), fc.integer({ min: 2, max: 9 }), (amps, metres, awg, times) => {
        const one = dropVolts(amps, awg, metres);
        expect(dropVolts(amps, awg, metres * times) / one).toBeCloseTo(times, 9);
        expect(dropVolts(amps * times, awg, metres) / one).toBeCloseTo(times, 9);
      }),
    );
  });
});

describe('wire and fuse', () => {
  it('a wire carries less the thinner it is', () => {
    for (let awg = 10; awg < 30; awg += 0.5) expect(safeAmps(awg + 0.5)).toBeLessThanOrEqual(safeAmps(awg) ?? 0);
    expect(safeAmps(19)).toBe(safeAmps(20));
    expect(safeAmps(31)).toBeNull();
  });

  it('warns of more than the wire bears in a loom', () => {
    const thin = planOf({ awg: 24, insulationMm: 1.3, amps: 2.5 });
    expect(thin.rows[0]?.terminal?.part).toBe('T-254-S'); // rated 3 A: the wire is the weaker
    expect(thin.problems).toMatchObject([
      {
        level: 'warning',
        position: 1,
        message: expect.stringMatching(/^A9J1-1, orange 24 AWG: 2\.5 A flow, .* bears 2 A/),
        mend: expect.stringContaining('thicker'),
      },
    ]);
  });

  it('warns of a fuse that does not protect the thinnest wire, once for all positions behind it', () => {
    expect(planOf({ fuse: 'F3, 5 A slow' }).problems).toEqual([]);
    const over = planOf({ fuse: 'F3, 6.3 A slow' }, [1, 2]);
    expect(over.problems).toMatchObject([
      {
        level: 'warning',
        position: 1,
        message:
          'A9J1-1, orange 20 AWG: the fuse F3, 6.3 A slow does not protect its thinnest wire, which bears 5 A in a loom; nor at A9J1-2 orange 20 AWG.',
        mend: expect.stringContaining('Never fit a larger fuse'),
      },
    ]);
    expect(over.loads.map((l) => l.level)).toEqual(['warning', 'warning']);
    expect(planOf({ fuse: 'see the holder' }).problems).toEqual([]);
  });

  it('finds the fuse of a driven line at its load', () => {
    const chart = chartWith({ positions: 2, pins: [{ position: 1, net: 'load.1' }] });
    const result = planConnector(chart, 'A9J1', fixtureCatalogue, fixtureStock, choices);
    expect(result.ok && result.plan.loads[0]?.fuse).toEqual({ text: 'F3, 4 A slow', amps: 4 });
  });
});
