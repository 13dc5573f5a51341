/** Partial and misspelt clues, in any order and in mixed notations. What they should mean is trade judgement. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { indexChart } from '@/lib/core/chart';
import { lookup } from '@/lib/core/lookup';
import type { LookupResult } from '@/lib/core/lookup/types';
import { distance, slipAlike } from '@/lib/core/lookup/words';
import { fixtureChart, fixtureDesign, fixtureMachine } from './fixture';
import { demoCharts } from './lookup-charts';

const ask = (clue: string, pick?: string) => lookup(fixtureChart, clue, pick);
const answer = (result: LookupResult) => (result.outcome === 'one' ? `${result.candidate.kind}:${result.candidate.id}` : result.outcome);
const all = (result: LookupResult) => (result.outcome === 'several' ? result.candidates.map((c) => `${c.kind}:${c.id}`) : [answer(result)]);
const reasons = (result: LookupResult) => (result.outcome === 'one' ? result.candidate.reasons.join('; ') : '');

describe('one switch, written every way', () => {
  it.each([
    'spiner grey orange',
    'og gy 46',
    '46 gy og',
    'row 6 collum 4',
    'row6 colum4',
    'sw46',
    'swich 46',
    'switch: 46',
    'col4 row6',
    'col4row6',
    'R6-C4',
    'row six column four',
    'gry-orn yel-vio',
    'gry-orn + yel-vio',
    'VIO-YEL+GRY-ORN',
    '7-4 grey with an orange stripe',
    'yelow-violet gry-oragne',
    'voilet/yellow grey/orange',
    'spnner',
    'spinnre',
    'spinr',
    'sipnner misses when warm',
    'spinner row 6',
    'A3J4 spiner',
  ])('%s', (clue) => {
    expect(all(ask(clue))).toContain('circuit:46');
    expect(all(ask(clue))[0]).toBe('circuit:46');
  });
});

describe('a pin in pieces', () => {
  it.each(['a3j4 7', 'j4-7 a3', 'a3 j4-7', 'a3-j4-7', 'pin 7 a3j4', 'A3J4 pin 7', 'position 7 of A3J4', 'A3J4#7', 'A3J4/7', 'j4 a3 pin 7'])(
    '%s',
    (clue) => {
      expect(answer(ask(clue))).toBe('pin:A3J4-7');
    },
  );

  it('a board alone gives its connectors', () => {
    expect(all(ask('a3'))).toEqual(['header:A3J4', 'header:A3J5', 'header:A3J6']);
    expect(all(ask('a3 row 6'))).toEqual(['pin:A3J4-7', 'pin:A3J5-2']);
    const none = ask('a9 spinner');
    expect(none.outcome === 'none' && none.advice.join()).toContain('no board “A9”');
  });

  it('a part on the board gives its lines', () => {
    expect(all(ask('u9'))).toEqual(['line:switch-row.5', 'line:switch-row.6', 'line:switch-row.7', 'line:switch-row.8']);
  });
});

describe('it says what it took for what', () => {
  it.each([
    ['spiner', '“spinner”, for “spiner”'],
    ['row 6 collum 4', '“collum” was read as “column”'],
    ['yelow-violet grey-orange', '“yelow-violet” was read as “yellow/violet”'],
    ['row six column 4', '“six” was read as “6”'],
    ['tidegate', '“tidegate” was read as “tide gate”'],
  ])('%s: %s', (clue, words) => {
    const result = ask(clue);
    const said = result.outcome === 'several' ? (result.candidates[0]?.reasons.join('; ') ?? '') : reasons(result);
    expect(said).toContain(words);
  });

  it('mends nothing that the chart has a name for, nor a word of a sentence', () => {
    expect(reasons(ask('spinner misses while warm'))).not.toContain('white');
    expect(reasons(ask('spinner'))).not.toContain('read as');
    const pins = ask('pins');
    expect(pins.outcome === 'one' || pins.outcome === 'several' ? JSON.stringify(pins) : '').not.toContain('does not fit');
  });

  it('leaves a clue alone whose mended form leads nowhere', () => {
    const result = ask('mailbg 46');
    expect(result.outcome === 'none' && result.advice[0]).toContain('“mailbg”');
  });
});

/** Plain textbook edit distance with exchanged neighbours (optimal string alignment), by recursion: the oracle. */
function slow(a: string, b: string): number {
  if (a === '' || b === '') return a.length + b.length;
  const tail = (n: number, m: number) => slow(a.slice(n), b.slice(m));
  const costs = [tail(1, 0) + 1, tail(0, 1) + 1, tail(1, 1) + (a[0] === b[0] ? 0 : 1)];
  if (a.length > 1 && b.length > 1 && a[0] === b[1] && a[1] === b[0]) costs.push(tail(2, 2) + 1);
  return Math.min(...costs);
}

describe('slips', () => {
  const short = fc.string({ unit: fc.constantFrom('a', 'b', 'c'), maxLength: 6 });

  it('counts them as the plain definition does', () => {
    fc.assert(
      fc.property(short, short, fc.integer({ min: 0, max: 4 }), (a, b, most) => {
        expect(distance(a, b, most)).toBe(Math.min(slow(a, b), most + 1));
      }),
      { numRuns: 400 },
    );
  });

  it('forgives one in four to seven letters, two from eight on, none in shorter words', () => {
    expect([slipAlike('gaet', 'gate') > 0, slipAlike('spnner', 'spinner') > 0, slipAlike('spmer', 'spinner') > 0]).toEqual([
      true,
      true,
      false,
    ]);
    expect([slipAlike('wethrvane', 'weathervane') > 0, slipAlike('wthrvan', 'weathervane') > 0]).toEqual([true, false]);
    expect([slipAlike('ht', 'hut'), slipAlike('lne', 'lane'), slipAlike('a3j5', 'a3j4')]).toEqual([0, 0, 0]);
  });

  it('finds every switch of the demo machines by its name with one letter missing, doubled or exchanged', () => {
    for (const chart of demoCharts()) {
      for (const c of chart.circuits) {
        const at = c.name.search(/\p{L}{5}/u) + 2; // inside the first word of five letters or more
        if (at < 2) continue;
        const [before, one, two, after] = [c.name.slice(0, at), c.name[at] ?? '', c.name[at + 1] ?? '', c.name.slice(at + 2)];
        for (const typed of [before + two + after, before + one + one + two + after, before + two + one + after]) {
          expect(all(lookup(chart, typed)), `${chart.title}: ${typed}`).toContain(`circuit:${c.number}`);
        }
      }
    }
  });
});

describe('a chart that prints the stripe first', () => {
  const turned = indexChart(fixtureMachine, { ...fixtureDesign, stripeOrder: 'stripe-base' });
  it.each(['orange/grey', 'ORN-GRY', '3-8', 'OGGY', 'grey with an orange stripe'])('%s is row 6', (clue) => {
    expect(lookup(turned, clue)).toMatchObject({ outcome: 'one', candidate: { id: 'switch-row.6', score: 1 } });
  });
});
