/** The expected net list of a header: what measures together, and what connects by right. */
import { describe, expect, it } from 'vitest';
import { chooseTerminal, planConnector } from '@/lib/core/harness';
import { fixtureChart } from './fixture';
import { chartWith, fixtureCatalogue, fixtureStock, terminalPart, wire } from './parts-fixture';

function planOf(header: string, chart = fixtureChart) {
  const result = planConnector(chart, header, fixtureCatalogue, fixtureStock, { headerSide: 'sound', saveKey: true });
  if (!result.ok) throw new Error(result.message);
  return result.plan;
}

describe('groups', () => {
  it('join the positions of one line, in order', () => {
    expect(planOf('A1J2').groups.map((g) => [g.net, g.positions])).toEqual([
      ['supply.coil', [1, 2]],
      ['ground.power', [4, 5]],
      ['illumination.1', [6, 7]],
      ['illumination.1-back', [8, 9]],
    ]);
    expect(planOf('A3J4').groups.every((g) => g.positions.length === 1)).toBe(true);
  });

  it('are in the step, parallel positions named', () => {
    const detail = (header: string) => planOf(header).steps.find((s) => s.id === 'groups')?.detail;
    expect(detail('A1J2')).toMatch(/^Together: 1 and 2 \(Coil supply\); .*Every other pair apart/);
    expect(detail('A3J4')).toMatch(/^Every position is a line of its own/);
  });
});

describe('links by right', () => {
  it('are coils with their ohms through a supply, strings of lamps, and a lamp matrix', () => {
    expect(planOf('A2J3').links).toEqual([
      { positions: [1, 2, 5], why: 'through coils and Coil supply, 9.4 to 12.3 Ω each; diodes conduct one way' },
    ]);
    expect(planOf('A1J2').links).toEqual([
      { positions: [6, 7, 8, 9], why: 'through the 19 lamps of Lower playfield: take one leg off to measure apart' },
    ]);
    expect(planOf('A4J2').links).toMatchObject([{ positions: [1, 2, 3, 4] }]);
  });

  it('are not made up: switch lines with open switches stay apart', () => {
    expect(planOf('A3J4').links).toEqual([]);
  });

  it('name a switch that is closed at rest', () => {
    const chart = chartWith({
      positions: 3,
      pins: [
        { position: 1, net: 'direct.1' },
        { position: 2, net: 'ground' },
        { position: 3, net: 'ground.power' },
      ],
    });
    const circuits = chart.circuits.map((c) => (c.number === 'D1' ? { ...c, normally: 'closed' as const } : c));
    expect(planOf('A9J1', { ...chart, circuits }).links).toEqual([
      { positions: [1, 2, 3], why: 'through D1 Start button, closed at rest' },
      { positions: [2, 3], why: 'grounds meet in the cabinet' },
    ]);
  });
});

describe('contact and pin must match the header (common practice, no source)', () => {
  const S = terminalPart('T-254-S', { pin: 'square', pinMm: 0.64 });
  const header = { id: 'A3J4', pitchMm: 2.54, plating: 'tin' } as const;
  const choose = (terminals = [S], more: object = {}) => chooseTerminal(7, [wire(24, 1.3)], { ...header, ...more }, terminals, {});

  it('a pin of another shape or size is refused with wire, position and mend', () => {
    expect(choose([S], { pinShape: 'square', pinMm: 0.6 }).terminal?.id).toBe('T-254-S');
    for (const more of [{ pinShape: 'round' }, { pinMm: 1.14 }]) {
      expect(choose([S], more).problems).toMatchObject([
        {
          level: 'error',
          position: 7,
          message: expect.stringMatching(/^A3J4-7, grey\/orange 24 AWG: the pins of A3J4 are/),
          mend: expect.stringContaining('Add a terminal'),
        },
      ]);
    }
  });

  it('what nobody wrote down refuses nothing', () => {
    expect(choose().terminal?.id).toBe('T-254-S');
    expect(choose([terminalPart('T-254-S')], { pinShape: 'round', pinMm: 1.1 }).terminal?.id).toBe('T-254-S');
  });

  it('one side does not hold a round pin', () => {
    const one = terminalPart('T-254-S', { contact: 'one-sided' });
    expect(choose([one], { pinShape: 'round' }).problems[0]).toMatchObject({
      level: 'error',
      message: expect.stringContaining('on one side'),
    });
    expect(choose([one], { pinShape: 'square' }).terminal?.id).toBe('T-254-S');
  });

  it('where a current flows two sides go first, even before what is on hand', () => {
    const one = terminalPart('T-254-S', { contact: 'one-sided' });
    const two = terminalPart('T-254-S', { id: 'T-TWO', contact: 'two-sided' });
    const at = (amps: number) =>
      chooseTerminal(7, [wire(24, 1.3)], header, [one, two], { 'T-254-S': 50 }, { amps, loaded: 1 }).terminal?.id;
    expect(at(1)).toBe('T-TWO');
    expect(at(0)).toBe('T-254-S');
  });
});
