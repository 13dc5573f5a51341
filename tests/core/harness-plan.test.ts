/** The whole plan of one header. */
import { describe, expect, it } from 'vitest';
import type { Net } from '@/lib/core/chart/schema';
import type { Chart } from '@/lib/core/chart/types';
import { type PlanChoices, planConnector } from '@/lib/core/harness';
import type { ConnectorPlan } from '@/lib/core/harness/types';
import { fixtureChart } from './fixture';
import { chartWith, fixtureCatalogue, fixtureStock, without } from './parts-fixture';

const sound: PlanChoices = { headerSide: 'sound', saveKey: false };
function plan(
  header: string,
  choices = sound,
  { chart = fixtureChart, catalogue = fixtureCatalogue, stock = fixtureStock } = {},
): ConnectorPlan {
  const result = planConnector(chart, header, catalogue, stock, choices);
  if (!result.ok) throw new Error(result.message);
  return result.plan;
}
const ids = (p: ConnectorPlan) => p.steps.map((s) => s.id);
const added = (header: Parameters<typeof chartWith>[0], nets?: Net[]): { chart: Chart } => ({ chart: chartWith(header, nets) });

describe('A3J4: eleven positions, key at 4, two grounds in 11', () => {
  const p = plan('A3J4');

  it('has a row for every position, with wire, line, where it goes and terminal', () => {
    expect(p.rows.map((r) => r.position)).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11]);
    expect(p.rows[6]).toMatchObject({
      key: false,
      empty: false,
      net: 'switch-row.6',
      label: 'Row 6',
      equivalentAwg: 24,
      terminal: { part: 'T-254-S', stripMm: 3.2 },
      problems: [],
    });
    expect(p.rows[6]?.wires.map((w) => w.colour)).toEqual(['grey/orange']);
    expect(p.rows[6]?.goesTo).toContain('S2');
    expect(p.rows[3]).toMatchObject({ key: true, empty: false, wires: [], terminal: null, label: 'key', equivalentAwg: null });
  });

  it('takes two grounds as 19.01 AWG in the larger terminal and says what that is worth', () => {
    expect(p.rows[10]?.equivalentAwg).toBeCloseTo(19.01, 2);
    expect(p.rows[10]?.terminal?.part).toBe('T-254-L');
    expect(p.problems.map((x) => [x.level, x.position])).toEqual([['warning', 11]]);
    expect(p.problems[0]?.message).toContain('outside the maker’s rating');
  });

  it('counts terminals with one spare for every ten begun and two samples of each kind', () => {
    expect(p.terminals.map(({ part, fitted, spare, samples, total, onHand }) => [part, fitted, spare, samples, total, onHand])).toEqual([
      ['T-254-S', 9, 1, 2, 12, 140],
      ['T-254-L', 1, 1, 2, 4, 5],
    ]);
  });

  it.each([
    [1, 1],
    [10, 1],
    [11, 2],
    [20, 2],
  ])('of %i fitted, %i spare', (fitted, spare) => {
    const pins = Array.from({ length: fitted }, (_, i) => ({ position: i + 1, net: 'switch-row.1' }));
    expect(plan('A9J1', sound, added({ positions: 20, pins })).terminals).toMatchObject([{ fitted, spare, total: fitted + spare + 2 }]);
  });

  it('needs housing, terminals and a keying plug', () => {
    expect(p.needs.map((n) => [n.part, n.quantity, n.note])).toEqual([
      ['H-254-16', 1, 'cut to 11, 4 positions kept'],
      ['T-254-S', 12, '9 fitted, 1 spare, 2 samples'],
      ['T-254-L', 4, '1 fitted, 1 spare, 2 samples'],
      ['K-254', 1, undefined],
    ]);
    expect(new Set(p.needs.map((n) => n.from))).toEqual(new Set(['connector plan A3J4']));
    expect(plan('A3J4', { ...sound, saveKey: true }).needs.map((n) => n.part)).not.toContain('K-254');
  });

  it('names its mate and its keys', () => {
    expect(p.housingName).toBe('A3P4');
    expect(p.keys).toEqual({ positions: [4], part: 'K-254', onHand: 0 });
  });
});

describe('the order of work', () => {
  it('runs from the mains plug to the proof', () => {
    expect(ids(plan('A3J4'))).toEqual([
      'power-off',
      'charge',
      'batteries',
      'photo',
      'mark',
      'cut',
      'key',
      'sample',
      'wires',
      'continuity',
      'groups',
      'reseat',
      'proof',
    ]);
  });

  it('has a step only when the plan calls for it', () => {
    expect(ids(plan('A3J6'))).not.toContain('cut'); // nine positions, exact on hand
    expect(ids(plan('A3J4', { ...sound, headerSide: 'reflow' }))).toContain('reflow');
    expect(ids(plan('A3J4', { ...sound, headerSide: 'replace' }))).toContain('header');
    expect(ids(plan('A3J4', { ...sound, headerSide: 'replace' }))).not.toContain('reflow');
    const bare = plan('A9J1', sound, added({ positions: 9, pins: [] }));
    expect(ids(bare)).toEqual(['power-off', 'charge', 'batteries', 'photo', 'mark', 'reseat', 'proof']);
  });

  it('says that the saved plug is moved, one wire at a time, and tugs only by hand on the harness', () => {
    const step = (id: string, choices = sound) => plan('A3J4', choices).steps.find((s) => s.id === id)?.detail;
    expect(step('key', { ...sound, saveKey: true })).toContain('old one');
    expect(step('key')).not.toContain('old one');
    expect(step('wires')).toMatch(/From old position n to new position n.*before the next/);
    expect(step('sample')).toMatch(/destroys.*only a tug by hand/);
  });

  it('says at the end what the lock of the header does not stop', () => {
    const seated = (lock?: 'friction' | 'shroud' | 'none') =>
      plan('A9J1', sound, added({ positions: 9, pins: [], ...(lock && { lock }) })).steps.find((s) => s.id === 'reseat')?.detail;
    expect(seated('friction')).toMatch(/shifted by one, which a friction wall does not stop/);
    expect(seated('shroud')).toMatch(/stops it turned round or shifted/);
    expect(seated('none')).toMatch(/Nothing stops it turned round or shifted/);
    expect(seated()).toMatch(/^Not shifted by one: position 1 to the mark/);
  });

  it('takes longer for more wires, and the sum is the plan’s', () => {
    const small = plan('A3J5');
    const large = plan('A3J4');
    const wires = (p: ConnectorPlan) => p.steps.find((s) => s.id === 'wires')?.minutes ?? 0;
    expect(wires(large)).toBeGreaterThan(wires(small));
    expect(large.minutes).toBe(large.steps.reduce((sum, s) => sum + s.minutes, 0));
  });
});

describe('the header side', () => {
  it('replaced, needs a header of the same plating, cut from a strip', () => {
    const p = plan('A3J4', { ...sound, headerSide: 'replace' });
    expect(p.needs.at(-1)).toEqual({
      part: 'R-254-36',
      name: 'Header strip, 2.54 mm',
      quantity: 1,
      from: 'connector plan A3J4',
      note: 'cut to 11, 25 positions kept',
    });
    expect(p.steps.find((s) => s.id === 'header')?.detail).toMatch(/^Cut from 36 positions to 11\..*pull the pin at the key/);
  });

  it('replaced by one that the catalogue lacks, is a need in words', () => {
    const p = plan('A3J4', { ...sound, headerSide: 'replace' }, { catalogue: without('R-254-36') });
    expect(p.needs.at(-1)).toEqual({ name: 'Header, 11 positions, 2.54 mm, tin', quantity: 1, from: 'connector plan A3J4' });
  });
});

describe('what is wrong is said', () => {
  const pinsOn = (...positions: number[]) => positions.map((position) => ({ position, net: 'switch-row.1' }));

  it('an unknown header: the headers there are', () => {
    expect(planConnector(fixtureChart, 'A7J9', fixtureCatalogue, fixtureStock, sound)).toEqual({
      ok: false,
      message: 'Lantern Regatta, no. 3 has no header A7J9.',
      mend: 'Choose one of A1J2, A2J3, A3J4, A3J5, A3J6, A4J2.',
    });
  });

  it('a wire on the key: an error, and no terminal', () => {
    const p = plan('A9J1', sound, added({ positions: 3, keys: [2], pins: pinsOn(1, 2) }));
    expect(p.rows[1]).toMatchObject({ key: true, terminal: null });
    expect(p.rows[1]?.problems).toMatchObject([
      { level: 'error', position: 2, message: expect.stringMatching(/^A9J1-2, grey\/blue 24 AWG: .*key/) },
    ]);
    expect(p.terminals).toMatchObject([{ fitted: 1 }]);
  });

  it('two lines on one pin: an error that names both, and no terminal', () => {
    const p = plan('A9J1', sound, added({ positions: 2, pins: [...pinsOn(1), { position: 1, net: 'ground' }] }));
    expect(p.rows[0]?.terminal).toBeNull();
    expect(p.problems).toMatchObject([{ level: 'error', position: 1, message: expect.stringContaining('switch-row.1 and ground') }]);
  });

  it('a line that the chart does not list: an error', () => {
    const p = plan('A9J1', sound, added({ positions: 1, pins: [{ position: 1, net: 'other.9' }] }));
    expect(p.problems).toMatchObject([{ level: 'error', message: expect.stringContaining('other.9') }]);
    expect(p.rows[0]?.terminal).toBeNull();
  });

  it('a pin beyond the end: an error, not a lost wire', () => {
    const p = plan('A9J1', sound, added({ positions: 2, pins: pinsOn(1, 3) }));
    expect(p.problems).toMatchObject([{ level: 'error', position: 3, message: expect.stringContaining('only 2 positions') }]);
  });

  it('no housing of the pitch: an error with the mend, and the rest is still planned', () => {
    const p = plan('A9J1', sound, added({ positions: 2, pitchMm: 5.08, pins: pinsOn(1) }));
    expect(p.housing.how).toBe('none');
    expect(p.problems.filter((x) => x.level === 'error').map((x) => x.message)).toEqual([
      'A9J1-1, grey/blue 24 AWG: there is no terminal of 5.08 mm for this housing.',
      'No housing for A9J1, 2 positions at 5.08 mm, is in the catalogue.',
    ]);
    expect(p.needs).toEqual([]);
  });

  it('no keying plug of the pitch: a warning unless the old one is saved', () => {
    const at = (saveKey: boolean) => plan('A1J2', { ...sound, saveKey }).problems.filter((x) => x.message.includes('keying plug'));
    expect(at(false)).toMatchObject([{ level: 'warning', mend: expect.stringContaining('works loose') }]);
    expect(at(true)).toEqual([]);
    expect(plan('A1J2').needs).toContainEqual({ name: 'Keying plug, 3.96 mm', quantity: 1, from: 'connector plan A1J2' });
  });

  it('a position found otherwise than in the manual: a warning to look first', () => {
    expect(plan('A1J2').rows[0]?.problems).toMatchObject([
      { level: 'warning', position: 1, message: expect.stringMatching(/^A1J2-1: found on 2026-01-09: Joined past the connector/) },
    ]);
  });

  it('keys found on this machine go before the chart: the pins, and a warning where the old plug differs', () => {
    const seen = { on: '2025-11-02', by: 'Ines Okafor' };
    const machine = { ...fixtureChart.machine, keysAsFound: [{ header: 'A3J6', pins: [2], plug: [], ...seen }] };
    const p = plan('A3J6', sound, { chart: { ...fixtureChart, machine } });
    expect(p.keys.positions).toEqual([2]);
    expect(p.problems).toMatchObject([
      {
        level: 'warning',
        message: expect.stringMatching(/A3J6 was found keyed nowhere, and the header has no pin at 2/),
        mend: expect.stringContaining('as the pins are'),
      },
    ]);
    const moved = { ...fixtureChart.machine, keysAsFound: [{ header: 'A9J1', pins: [5], plug: [5], ...seen }] };
    const chart = chartWith({ positions: 9, keys: [2], pins: pinsOn(1) });
    const q = plan('A9J1', sound, { chart: { ...chart, machine: moved } });
    expect(q.rows.filter((r) => r.key).map((r) => r.position)).toEqual([5]);
    expect(q.problems).toEqual([]);
  });

  it('only terminals that go into the chosen housing are taken', () => {
    const parts = fixtureCatalogue.parts.map((x) => (x.id === 'H-254-16' && x.kind === 'housing' ? { ...x, terminals: ['T-254-L'] } : x));
    const p = plan('A3J4', sound, { catalogue: { ...fixtureCatalogue, parts } });
    expect(p.rows[0]?.problems[0]).toMatchObject({ level: 'error', message: expect.stringContaining('T-254-L takes 18 to 20 AWG') });
  });

  it('parallel positions share a current unequally: 1.3 of the mean', () => {
    const net: Net = { id: 'supply.fan', kind: 'supply', colour: 'orange', awg: 20, insulationMm: 1.8, volts: 12, supply: 'dc', amps: 6 };
    const spread = (...positions: number[]) =>
      plan('A9J1', sound, added({ positions: 9, pins: positions.map((position) => ({ position, net: net.id })) }, [net]));
    expect(spread(1).problems[0]?.message).toContain('at 6 A');
    expect(spread(1, 2).problems).toEqual([]); // 3.9 A in a terminal of 4
    const more = { ...net, amps: 6.2 };
    const over = plan('A9J1', sound, added({ positions: 9, pins: [1, 2].map((position) => ({ position, net: net.id })) }, [more]));
    expect(over.problems[0]?.message).toContain('at 4.03 A'); // 6.2 ÷ 2 × 1.3
  });
});

describe('a lettered header', () => {
  const pin = (position: number) => ({ position, net: 'switch-row.1', wires: [{ colour: 'grey/blue', awg: 24 }] });
  const letters = plan('A9J1', sound, added({ positions: 6, keys: [4], numbering: 'lettered', lock: 'friction', pins: [pin(2), pin(3)] }));
  const steps = new Map(letters.steps.map((s) => [s.id, `${s.title}. ${s.detail}`]));

  it('is spoken of by its letters in every step', () => {
    expect(steps.get('mark')).toContain('Position A marked');
    expect(steps.get('key')).toContain('Keying plug in position D.');
    expect(steps.get('groups')).toContain('Together: B and C (Row 1)');
    expect(steps.get('reseat')).toContain('position A to the mark');
    steps.delete('cut'); // counts along the housing as it is bought, which has no letters
    expect([...steps.values()].join(' ')).not.toMatch(/[Pp]osition \d/);
  });
});
