/** Clues of every sort on the invented chart. What a clue should mean is trade judgement. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { indexChart } from '@/lib/core/chart';
import { lookup } from '@/lib/core/lookup';
import type { LookupResult } from '@/lib/core/lookup/types';
import { formatWire, notations, splitColour } from '@/lib/core/wire';
import { fixtureChart, fixtureDesign, fixtureMachine } from './fixture';

fc.configureGlobal({ seed: 46 }); // the same run every time; change it to search further

const ask = (clue: string, pick?: string) => lookup(fixtureChart, clue, pick);
const answer = (result: LookupResult) => (result.outcome === 'one' ? `${result.candidate.kind}:${result.candidate.id}` : result.outcome);
const several = (result: LookupResult) =>
  result.outcome === 'several' ? result.candidates.map((c) => `${c.kind}:${c.id}`) : answer(result);
const reasons = (result: LookupResult) => (result.outcome === 'one' ? result.candidate.reasons.join('; ') : '');
const advice = (result: LookupResult) => (result.outcome === 'none' ? result.advice.join(' ') : result.outcome);

describe('one clue, one circuit', () => {
  it.each([
    '46',
    'sw 46',
    'SW46',
    'switch 46',
    'switch no. 46',
    '#46',
    'no 46',
    'number 46',
    'spinner',
    'Spinner',
    'SPINNER switch',
    'spiner',
    'spinenr',
    'the spinner',
    'column 4 row 6',
    'row 6 column 4',
    'c4 r6',
    'C4R6',
    'col 4, row 6',
    'violet/yellow grey/orange',
    'grey/orange violet/yellow',
    'violet-yellow and grey-orange',
    'VIO-YEL GRY-ORN',
    '7-4 8-3',
    'violet with a yellow stripe, grey with an orange stripe',
    'spinner grey-orange',
    'grey-orange spinner',
    'spinner 46',
    'A3J4 spinner',
    'A3J4-7 spinner',
    'row 6 violet/yellow',
    'right orbit spinner',
    'Lantern Regatta no. 3 spinner',
    'spinner misses when warm',
  ])('%s', (clue) => {
    expect(answer(ask(clue))).toBe('circuit:46');
  });

  it.each([
    ['D2', 'circuit:D2'],
    ['pink/black service', 'circuit:D2'],
    ['cafe bell', 'circuit:83'],
    ['CAFÉ', 'circuit:83'],
    ['gate tide', 'circuit:26'],
    ['buoy 2', 'circuit:62'],
    ['lower right rubber', 'circuit:44'],
    ['left sling switch', 'circuit:23'],
    ['left sling coil', 'load:L2'],
    ['coil 2', 'load:L2'],
    ['L2', 'load:L2'],
    ['lamp 12', 'lamp:12'],
    ['spinner lamp', 'lamp:12'],
    ['coil supply', 'line:supply.coil'],
    ['lamp column 2', 'line:lamp-column.2'],
    ['direct 2', 'line:direct.2'],
  ])('%s is %s', (clue, wanted) => {
    expect(answer(ask(clue))).toBe(wanted);
  });
});

describe('lines, pins and connectors', () => {
  it.each(['grey/orange', 'grey-orange', 'GRY-ORN', 'orange on grey', 'gy og', 'OGGY', '8-3', 'grey with an orange stripe', 'row 6', 'r6'])(
    '%s is row 6 with its taps, faces and switches',
    (clue) => {
      const result = ask(clue);
      expect(answer(result)).toBe('line:switch-row.6');
      if (result.outcome !== 'one') return;
      expect(result.line?.taps.map((t) => t.pin)).toEqual(['A3J4-7', 'A3J5-2']);
      expect(result.line?.faces.map((f) => f.positions.filter((p) => p.lit).map((p) => `${f.housing}-${p.position}`))).toEqual([
        ['A3P4-7'],
        ['A3P5-2'],
      ]);
      expect(result.circuits.map((c) => c.number)).toEqual(['16', '26', '36', '46', '56', '66', '76', '86']);
    },
  );

  it('finds each line by its colour in each notation that can say it', () => {
    const lines = fixtureDesign.nets.filter((net) => net.colour.includes('/'));
    fc.assert(
      fc.property(fc.constantFrom(...lines), fc.constantFrom(...notations), (net, notation) => {
        const { base, stripe } = splitColour(net.colour);
        const text = formatWire(base, stripe, notation);
        const twin = notation === 'letters' && lines.some((other) => other.colour === `${stripe}/${base}`);
        if (text !== null && twin) expect(several(ask(text))).toContain(`line:${net.id}`);
        else if (text !== null) expect(answer(ask(text))).toBe(`line:${net.id}`);
      }),
      { numRuns: 150 },
    );
  });

  it.each(['orange/grey', 'yellow-violet'])('%s is found the other way round, and says so', (clue) => {
    expect(reasons(ask(clue))).toContain('the other way round');
  });

  it.each([
    'A3J4-7',
    'a3j4-7',
    'A3J4 7',
    'a3p4 pin 7',
    'A3 J4-7',
    'A3J4.7',
    'J4-7',
    'grey/orange A3J4',
    'A3J4 row 6',
    'grey/orange A3J4-7',
  ])('%s is that pin', (clue) => {
    const result = ask(clue);
    expect(answer(result)).toBe('pin:A3J4-7');
    if (result.outcome !== 'one') return;
    expect(result.face?.positions.filter((p) => p.lit).map((p) => p.position)).toEqual([7]);
    expect(result.line?.net).toBe('switch-row.6');
    expect(result.circuits.map((c) => c.number)).toEqual(['16', '46', '26', '36', '56', '66', '76']);
  });

  it('shows a connector, its key and an empty place', () => {
    const result = ask('A3P4');
    expect(answer(result)).toBe('header:A3J4');
    expect(result.outcome === 'one' && result.face?.positions.map((p) => p.label)).toMatchObject({
      0: 'Row 1',
      3: 'key',
      9: 'Direct 2',
      10: 'Ground',
    });
    expect(reasons(ask('A3J4-4'))).toContain('is the key');
    expect(reasons(ask('A3J5-6'))).toContain('is not used');
  });
});

describe('clues with several answers', () => {
  it('ranks them, each with its reason', () => {
    const result = ask('sling');
    expect(several(result)).toEqual(['circuit:23', 'circuit:44', 'load:L2']);
    if (result.outcome === 'several') for (const c of result.candidates) expect(c.reasons.join()).toContain('sling');
  });

  it('takes a choice among them, and ignores one that does not fit', () => {
    expect(answer(ask('sling', 'load:L2'))).toBe('load:L2');
    expect(several(ask('sling', 'circuit:46'))).toHaveLength(3);
  });

  it('leaves an unordered pair open when both lines exist', () => {
    const both = indexChart(fixtureMachine, {
      ...fixtureDesign,
      nets: fixtureDesign.nets.map((net) => (net.id === 'load.2' ? { ...net, colour: 'orange/grey' } : net)),
    });
    expect([several(lookup(both, 'OGGY'))].flat().sort()).toEqual(['line:load.2', 'line:switch-row.6']);
    expect(answer(lookup(both, 'grey/orange'))).toBe('line:switch-row.6');
    expect(reasons(lookup(both, 'grey/orange'))).toContain('also fits Load 2');
  });

  it('leaves an ambiguous short form open', () => {
    expect(several(ask('gr/bl'))).toEqual(['line:switch-row.1', 'line:switch-row.3']);
    expect(several(ask('bl'))).toContain('line:ground');
    expect(ask('bl').outcome).toBe('several');
  });

  it('does not hand the name of a connector down to the switches on it', () => {
    const named = indexChart(fixtureMachine, {
      ...fixtureDesign,
      headers: fixtureDesign.headers.map((h) => (h.id === 'A3J5' ? { ...h, name: 'Coin door' } : h)),
    });
    expect(several(lookup(named, 'coin'))).toEqual(expect.arrayContaining(['circuit:11', 'circuit:12', 'header:A3J5']));
    expect(several(lookup(named, 'coin'))).not.toContain('circuit:86');
    expect(answer(lookup(named, 'coin jetty'))).toBe('several');
  });

  it('says what else the best answer shares its clue with', () => {
    expect(reasons(ask('spinner'))).toContain('Lamp 12 Spinner lit');
    expect(reasons(ask('11'))).toContain('Lamp 11 Lantern 1');
  });

  it('offers both sides of a clue that contradicts itself', () => {
    const result = ask('46 tide gate');
    expect(several(result)).toEqual(expect.arrayContaining(['circuit:46', 'circuit:26']));
    if (result.outcome === 'several') expect(result.candidates.find((c) => c.id === '46')?.reasons.join()).toContain('does not fit “tide”');
    expect(several(ask('row 5 row 6'))).toEqual(['line:switch-row.5', 'line:switch-row.6']);
    expect(several(ask('A3J5 spinner'))).toContain('circuit:46');
  });
});

describe('this machine as found', () => {
  it('finds a wire that the manual does not have, and says so', () => {
    const result = ask('pink/yellow');
    expect(answer(result)).toBe('circuit:44');
    expect(reasons(result)).toContain('was found here on 2024-05-03');
    expect(result.outcome === 'one' && result.circuit?.asFound.map((d) => d.id)).toEqual(['right-sling-row']);
  });

  it('goes with the manual’s wire of the other line', () => {
    expect(answer(ask('violet/yellow pink/yellow'))).toBe('circuit:44');
    expect(answer(ask('violet/yellow grey/tan'))).toBe('circuit:44');
  });

  it('weighs it like the manual’s own wire', () => {
    const twice = indexChart({ ...fixtureMachine, asFound: [{ ...fixtureMachine.asFound[0]!, wire: 'pink/white' }] }, fixtureDesign);
    expect(several(lookup(twice, 'pink/white'))).toEqual(['circuit:44', 'line:direct.1']);
  });

  it('finds a wire of another colour at a pin', () => {
    const odd = indexChart(fixtureMachine, {
      ...fixtureDesign,
      headers: fixtureDesign.headers.map((h) =>
        h.id === 'A3J6' ? { ...h, pins: h.pins.map((p) => (p.position === 5 ? { ...p, wires: [{ colour: 'tan/pink' }] } : p)) } : h,
      ),
    });
    expect(answer(lookup(odd, 'tan/pink'))).toBe('pin:A3J6-5');
  });
});

describe('clues that lead nowhere', () => {
  it('knows an empty clue', () => {
    expect(ask('  ')).toEqual({ outcome: 'empty' });
  });

  it.each([
    ['zzqx', '“zzqx”'],
    ['mailbag 46', 'Nothing here is called “mailbag”. Try'],
    ['mailbag 46', 'Without that, the clue fits 46 Spinner'],
    ['grey/pink', 'No wire in this chart is grey/pink'],
    ['grey/pink spinner', 'Without that, the clue fits 46 Spinner'],
    ['A3J4-12', 'A3J4 has positions 1 to 11'],
    ['A9J9-1', 'the connectors are A1J2'],
    ['A9J9', 'the connectors are A1J2'],
    ['column 12', 'run from 1 to 8'],
    ['99', 'numbered 99'],
    ['sw 99', 'numbered 99'],
    ['switch', 'Try a number such as 11'],
    ['GNYE', 'protective earth'],
    ['x'.repeat(201), 'at most'],
  ])('%s: %s', (clue, words) => {
    expect(advice(ask(clue))).toContain(words);
  });

  it('has an empty cell: the two lines, no switch', () => {
    expect(several(ask('column 5 row 7'))).toEqual(['line:switch-column.5', 'line:switch-row.7']);
  });

  it('never throws, and never gives an answer without a reason', () => {
    const words = fc.constantFrom(
      'spinner',
      'grey/orange',
      'A3J4',
      '7',
      'row',
      'c4',
      'left',
      'bl',
      'sw',
      '46',
      'lamp',
      'pin',
      '-',
      'on',
      'orange',
      'GNYE',
      '#',
      '12',
      'coil',
      'direct',
      'é',
    );
    const clue = fc.oneof(
      fc.string({ maxLength: 60 }),
      fc.array(words, { maxLength: 6 }).map((w) => w.join(' ')),
    );
    fc.assert(
      fc.property(clue, (text) => {
        const result = ask(text);
        if (result.outcome === 'one') expect(result.candidate.reasons.join('')).not.toBe('');
        if (result.outcome === 'several') {
          expect(result.candidates.length).toBeGreaterThan(1);
          for (const c of result.candidates) expect(c.reasons.join('')).not.toBe('');
          expect(result.candidates.map((c) => c.score)).toEqual(result.candidates.map((c) => c.score).toSorted((a, b) => b - a));
        }
        if (result.outcome === 'none') expect(result.advice.length).toBeGreaterThan(0);
      }),
      { numRuns: 300 },
    );
  });
});

describe('every circuit of the chart', () => {
  it('is found by its number and by its two wires', () => {
    for (const c of fixtureChart.circuits) {
      expect(answer(ask(`sw ${c.number}`))).toBe(`circuit:${c.number}`);
      if (c.kind === 'direct') continue;
      const colours = c.nets.map((net) => fixtureChart.nets.get(net)!.colour);
      expect(answer(ask(colours.join(' '))), colours.join(' ')).toBe(`circuit:${c.number}`);
      expect(answer(ask(colours.toReversed().join(' ')))).toBe(`circuit:${c.number}`);
    }
  });
});
