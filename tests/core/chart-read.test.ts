import { describe, expect, it } from 'vitest';
import { readDesign, readMachine } from '@/lib/core/chart';
import { fixtureDesign, fixtureMachine } from './fixture';

type Json = Record<string, unknown>;
const broken = (whole: unknown, change: (json: Json) => void): unknown => {
  const json = JSON.parse(JSON.stringify(whole)) as Json;
  change(json);
  return json;
};
const design = (change: (json: Json) => void) => readDesign(broken(fixtureDesign, change));
const said = (result: ReturnType<typeof readDesign> | ReturnType<typeof readMachine>) =>
  result.ok ? [] : result.findings.map(({ path, message, mend }) => [path, message, mend]);
const headers = (json: Json) => json.headers as Json[];

describe('readDesign, readMachine', () => {
  it('reads what it has written', () => {
    expect(readDesign(JSON.parse(JSON.stringify(fixtureDesign)))).toEqual({ ok: true, value: fixtureDesign });
    expect(readMachine(JSON.parse(JSON.stringify(fixtureMachine)))).toEqual({ ok: true, value: fixtureMachine });
  });

  it('names the path, the fault and the mend', () => {
    expect(said(design((j) => delete headers(j)[2]!.positions))).toEqual([
      ['headers[2].positions', '“headers[2].positions” is missing.', 'Add it: a number.'],
    ]);
    expect(said(design((j) => Object.assign(headers(j)[2]!, { positions: '11' })))).toEqual([
      ['headers[2].positions', '“headers[2].positions” is “11”.', 'Give a number.'],
    ]);
    expect(said(design((j) => Object.assign(headers(j)[2]!, { positions: 61 })))).toEqual([
      ['headers[2].positions', '“headers[2].positions” is too large.', 'Use at most 60.'],
    ]);
    expect(said(design((j) => Object.assign(headers(j)[2]!, { plating: 'brass' })))).toEqual([
      ['headers[2].plating', '“headers[2].plating” is “brass”, which does not fit.', 'Give one of tin, gold.'],
    ]);
    expect(said(design((j) => Object.assign(headers(j)[2]!, { pitchMm: 2.6 })))).toEqual([
      ['headers[2].pitchMm', '“headers[2].pitchMm” is 2.6, which does not fit.', 'Give one of 2, 2.5, 2.54, 3.96, 5.08.'],
    ]);
    expect(said(design((j) => Object.assign(headers(j)[2]!, { id: 'J4' })))).toEqual([
      ['headers[2].id', '“headers[2].id” is “J4”: write a header as board and J number, such as A3J4.', 'Correct it to that form.'],
    ]);
    expect(said(design((j) => Object.assign(j, { name: '' })))).toEqual([['name', '“name” is too short.', 'Use at least 1 characters.']]);
    expect(said(design((j) => Object.assign(j, { boards: [] })))).toEqual([
      ['boards', '“boards” is too small.', 'Use at least 1 entries.'],
    ]);
    expect(said(design((j) => Object.assign(j, { format: 'x' })))).toEqual([
      ['format', '“format” is “x”, which does not fit.', 'Give “fettlebook-board/1”.'],
    ]);
    expect(said(design((j) => Object.assign(j.matrix as Json, { thresholdRatio: 1 })))).toEqual([
      ['matrix.thresholdRatio', '“matrix.thresholdRatio” is too large.', 'Use less than 1.'],
    ]);
  });

  it('names a step of a chain that is neither switch, load, lamp nor splice', () => {
    const result = readMachine(broken(fixtureMachine, (j) => Object.assign((j.chains as Json[])[0]!, { steps: [{ bulb: '1' }] })));
    expect(said(result)[0]?.[0]).toBe('chains[0].steps[0]');
    expect(said(result)[0]?.[2]).toContain('“switch”');
  });

  it('says what is wrong in the rarer fields', () => {
    const machine = (change: (json: Json) => void) => said(readMachine(broken(fixtureMachine, change)));
    const first = (list: unknown) => (list as Json[])[0]!;
    expect(said(design((j) => Object.assign(headers(j)[2]!, { rows: 3 })))).toEqual([
      ['headers[2].rows', '“headers[2].rows” is 3, which does not fit.', 'Give one of 1, 2.'],
    ]);
    expect(said(design((j) => Object.assign(headers(j)[2]!, { numbering: 'spiral' })))[0]?.[2]).toBe(
      'Give one of along, zigzag, per-row, lettered.',
    );
    expect(said(design((j) => Object.assign(headers(j)[2]!, { skipLetters: 'g, i' })))).toEqual([
      [
        'headers[2].skipLetters',
        '“headers[2].skipLetters” is “g, i”: write the letters that are left out, such as GIOQ.',
        'Correct it to that form.',
      ],
    ]);
    expect(machine((j) => Object.assign(j.numbering as Json, { base: { column: 2 } }))).toEqual([
      ['numbering.base.column', '“numbering.base.column” is 2, which does not fit.', 'Give one of 0, 1.'],
    ]);
    expect(machine((j) => Object.assign(first(j.switches), { also: 'S1' }))).toEqual([
      ['switches[0].also', '“switches[0].also” is “S1”.', 'Give a list.'],
    ]);
    expect(machine((j) => Object.assign(first(j.loads), { flyback: 'somewhere' }))[0]?.[2]).toBe(
      'Give one of at the coil, on the board, none.',
    );
    expect(machine((j) => Object.assign(first(j.illumination), { taps: ['A1J2'] }))[0]).toEqual([
      'illumination[0].taps[0]',
      '“illumination[0].taps[0]” is “A1J2”: write a pin as header, hyphen, position, such as A3J4-7.',
      'Correct it to that form.',
    ]);
    expect(machine((j) => Object.assign(j, { keysAsFound: [{ header: 'A3J4', on: '2025-11-02' }] }))).toEqual([
      ['keysAsFound[0].by', '“keysAsFound[0].by” is missing.', 'Add it: text.'],
    ]);
  });

  it.each(['3 May 2024', '2024-5-3', '2024-13-01', '2023-02-29', '2024-04-31'])('refuses %s as the day of a deviation', (on) => {
    expect(said(readMachine(broken(fixtureMachine, (j) => Object.assign((j.asFound as Json[])[0]!, { on }))))).toEqual([
      [
        'asFound[0].on',
        `“asFound[0].on” is “${on}”: write the date as year-month-day, a day that the calendar has.`,
        'Correct it to that form.',
      ],
    ]);
  });

  it('takes the leap day of a leap year', () => {
    expect(readMachine(broken(fixtureMachine, (j) => Object.assign((j.asFound as Json[])[0]!, { on: '2024-02-29' }))).ok).toBe(true);
  });

  it.each([null, 'text', 3, [], undefined])('refuses %j as a whole', (json) => {
    const result = readMachine(json);
    expect(result.ok).toBe(false);
    expect(said(result)[0]?.[0]).toBe('(whole)');
  });

  it('finds every fault at once', () => {
    expect(
      said(
        design((j) => {
          delete headers(j)[0]!.id;
          headers(j)[1]!.keys = 'none';
        }),
      ),
    ).toHaveLength(2);
  });
});
