/** Faded wires: guesses are marked as such and never narrow more than they know. Which colours age into which is trade judgement. */
import { converter, formatHex } from 'culori';
import { describe, expect, it } from 'vitest';
import { indexChart } from '@/lib/core/chart';
import { fadedCandidates, lookup } from '@/lib/core/lookup';
import { colourNames, colourOf, labOfSrgb, similarColours, usualConfusions } from '@/lib/core/wire';
import { fixtureChart, fixtureDesign, fixtureMachine } from './fixture';

const at = (seen: Parameters<typeof fadedCandidates>[2], place: Parameters<typeof fadedCandidates>[1] = { header: 'A3J4' }) =>
  fadedCandidates(fixtureChart, place, seen);
const wires = (list: { wire: string }[]) => list.map((c) => c.wire);

describe('similar colours', () => {
  it('puts a colour itself first, and the usual confusions before all others', () => {
    for (const name of colourNames) {
      const [first, ...rest] = similarColours(name);
      expect(first).toMatchObject({ name, difference: 0, faded: 0, usual: false });
      const usual = rest.filter((c) => c.usual).map((c) => c.name);
      expect(rest.slice(0, usual.length).map((c) => c.name)).toEqual(usual);
      expect(rest.map((c) => c.faded)).toEqual(rest.map((c) => c.faded).toSorted((a, b) => a - b));
    }
    for (const [a, b] of usualConfusions) {
      expect(similarColours(a, [b])[0]?.usual).toBe(true);
      expect(similarColours(b, [a])[0]?.usual).toBe(true);
    }
  });

  it('ranks only those asked for, and knows no colour that is not of the table', () => {
    expect(similarColours('white', ['grey', 'black', 'turquoise']).map((c) => c.name)).toEqual(['grey', 'black']);
    expect(similarColours('turquoise')).toEqual([]);
  });

  it('takes a measured colour', () => {
    const brownish = labOfSrgb('#a0501c');
    expect(brownish && similarColours(brownish)[0]?.name).toBe('brown');
  });
});

describe('what the connector holds', () => {
  it('gives the wire itself, then what it may have faded from, with its pin and why', () => {
    const [first, second] = at({ words: 'white/orange' });
    expect(first).toMatchObject({ wire: 'grey/orange', label: 'Row 6', pins: ['A3J4-7'], sure: 'close' });
    expect(first?.reason).toContain('grey often passes for white');
    expect(second?.sure).toBe('possible');
    expect(at({ words: 'grey/orange' })[0]).toMatchObject({
      wire: 'grey/orange',
      difference: 0,
      sure: 'close',
      reason: 'the same colours',
    });
  });

  it('never names a wire from elsewhere', () => {
    const here = new Set([...fixtureChart.pins.values()].filter((t) => t.header === 'A3J4').flatMap((t) => t.wires.map((w) => w.colour)));
    for (const base of colourNames)
      for (const stripe of colourNames)
        for (const c of at({ words: `${base}/${stripe}` })) {
          expect(here).toContain(c.wire);
          for (const pin of c.pins) expect(pin.startsWith('A3J4-')).toBe(true);
        }
    expect(wires(at({ words: 'white/orange' }, { nets: ['switch-row.6', 'switch-row.2'] }))).toEqual(['grey/orange', 'grey/red']);
    expect(at({ words: 'white/orange' }, { header: 'A9J9' })).toEqual([]);
  });

  it('goes by what this machine has instead of the manual’s wire', () => {
    const odd = indexChart(
      { ...fixtureMachine, asFound: [{ ...fixtureMachine.asFound[0]!, place: { pin: 'A3J4-7' }, wire: 'yellow/pink' }] },
      fixtureDesign,
    );
    expect(wires(fadedCandidates(odd, { header: 'A3J4' }, { words: 'white/pink' }))).toContain('yellow/pink');
    expect(wires(fadedCandidates(odd, { header: 'A3J4' }, { words: 'grey/orange' }))).not.toContain('grey/orange');
  });

  it('thinks of a stripe that wore off, but is never close on that', () => {
    const list = at({ words: 'grey' });
    expect(wires(list)).toContain('grey/orange');
    for (const c of list) expect(c.sure).toBe('possible');
    expect(list[0]?.reason).toContain('may have worn off');
  });

  it('weighs an unordered pair both ways', () => {
    expect(at({ words: 'OGGY' })[0]).toMatchObject({ wire: 'grey/orange', difference: 0 });
  });

  it('has nothing for words or pixels that are none', () => {
    expect(at({ words: 'spinner' })).toEqual([]);
    expect(at({ pixels: { base: 'grey' } })).toEqual([]);
    expect(at({ pixels: { base: '#888888', stripe: 'orange' } })).toEqual([]);
  });
});

describe('from a photo', () => {
  const toLinear = converter('lrgb');
  /** As a photo under a lamp of this colour shows it. */
  const under = (lamp: string, srgb: string) => {
    const [light, own] = [toLinear(lamp), toLinear(srgb)];
    if (!light || !own) throw new Error('not a colour');
    return formatHex({ mode: 'lrgb', r: light.r * own.r, g: light.g * own.g, b: light.b * own.b });
  };
  const lamp = '#f4e2a0';
  const shade = (name: string) => under(lamp, colourOf(name)?.srgb ?? '');
  const pixels = { base: shade('grey'), stripe: shade('orange') };

  it('without a white patch it is unsure, and holds every wire of the connector', () => {
    const list = at({ pixels });
    const here = [...fixtureChart.pins.values()].filter((t) => t.header === 'A3J4').flatMap((t) => t.wires.map((w) => w.colour));
    const striped = new Set(here.filter((w) => w.includes('/')));
    expect(new Set(wires(list).filter((w) => w.includes('/')))).toEqual(striped);
    for (const c of list) {
      expect(c.sure).toBe('unsure');
      expect(c.reason).toContain('without a white patch');
    }
    expect(new Set(wires(at({ pixels: { base: pixels.base } })))).toEqual(new Set(here));
  });

  it('with one it takes the lamp’s tint out and may narrow the list', () => {
    const list = at({ pixels, white: under(lamp, '#ffffff') });
    expect(list.length).toBeLessThan(at({ pixels }).length);
    expect(list[0]).toMatchObject({ wire: 'grey/orange', sure: 'close' });
    for (const c of list) expect(c.sure).not.toBe('unsure');
  });

  it('a measured colour brings its own white', () => {
    const base = labOfSrgb('#8b8f94');
    const stripe = labOfSrgb('#e87818');
    if (!base || !stripe) throw new Error('not read');
    expect(at({ lab: { base, stripe } })[0]).toMatchObject({ wire: 'grey/orange', sure: 'close' });
  });
});

describe('in a lookup', () => {
  const guesses = (clue: string) => {
    const result = lookup(fixtureChart, clue);
    return result.outcome === 'none' ? (result.guesses ?? []) : [];
  };

  it('a wire that the chart lacks brings the one that it may have been, marked as a guess', () => {
    const result = lookup(fixtureChart, 'white/orange');
    expect(result.outcome).toBe('none');
    expect(guesses('white/orange')[0]).toMatchObject({ kind: 'line', id: 'switch-row.6', guess: true });
    expect(result.outcome === 'none' && result.advice[0]).toBe(
      'Row 6 at A3J4-7, A3J5-2: grey/orange is row 6; white/orange may be the faded grey/orange, a guess. Compare it at the connector.',
    );
    expect(result.outcome === 'none' && result.advice[1]).toContain('No wire in this chart is white/orange');
  });

  it('goes together with the rest of the clue', () => {
    expect(guesses('white/orange violet/yellow').map((c) => `${c.kind}:${c.id}`)).toEqual(['circuit:46']);
    expect(guesses('spinner white-orange')[0]?.id).toBe('46');
    expect(guesses('spinner white-tan')).toEqual([]); // row 4 is grey/tan: not the spinner's
  });

  it('is taken only when somebody picks it', () => {
    const picked = lookup(fixtureChart, 'white/orange', 'line:switch-row.6');
    expect(picked).toMatchObject({ outcome: 'one', candidate: { guess: true }, line: { net: 'switch-row.6' } });
    expect(picked.outcome === 'one' && picked.candidate.reasons.join()).toContain('a guess');
    expect(lookup(fixtureChart, 'white/orange', 'line:switch-row.5').outcome).toBe('none');
  });

  it('guesses nothing for a wire that the chart has, nor beside something else that is not here', () => {
    expect(lookup(fixtureChart, 'grey/orange')).toMatchObject({ outcome: 'one' });
    expect(lookup(fixtureChart, 'grey/orange').outcome === 'one' && JSON.stringify(lookup(fixtureChart, 'grey/orange'))).not.toContain(
      'guess',
    );
    expect(guesses('white/orange A9J9')).toEqual([]);
    expect(guesses('GNYE')).toEqual([]);
  });
});
