/** A job of many connectors: worked examples (trade rules worked by hand, no source; prices invented). */
import { describe, expect, it } from 'vitest';
import type { Header } from '@/lib/core/chart/schema';
import { type JobConnector, planHeaders, planHousings } from '@/lib/core/harness';
import { catalogue as catalogueSchema } from '@/lib/core/parts/schema';

const connector = (id: string, positions: number, more: Partial<Header> = {}): JobConnector => ({
  id,
  header: { id: 'A1J1', positions, pitchMm: 2.54, keys: [], plating: 'tin', termination: 'crimp', pins: [], ...more },
});
const housing = (id: string, positions: number, more: object = {}) => ({
  id,
  kind: 'housing',
  name: `Housing ${id}`,
  pack: 5,
  packPence: positions * 20,
  pitchMm: 2.54,
  positions,
  cut: 'sawn',
  terminals: ['T-254-S'],
  ...more,
});
const strip = (id: string, positions: number, more: object = {}) => ({
  id,
  kind: 'header',
  name: `Header strip ${id}`,
  pack: 5,
  packPence: 395,
  pitchMm: 2.54,
  positions,
  plating: 'tin',
  cut: 'scored',
  ...more,
});
const catalogue = (...parts: object[]) => catalogueSchema.parse({ format: 'fettlebook-parts/1', parts });
const long = catalogue(housing('H-254-24', 24));

describe('pins of board headers', () => {
  it('are made for the pins of each: round ones get no strip of square ones', () => {
    const square = { ...strip('R-254-36', 36), pin: 'square', pinMm: 0.64 };
    const round = { ...strip('R-254-20R', 20), pin: 'round', pinMm: 1 };
    const connectors = [
      connector('A1J1', 9, { pinShape: 'square', pinMm: 0.64 }),
      connector('A1J2', 9, { pinShape: 'round', pinMm: 1 }),
      connector('A1J3', 9, { pinShape: 'round', pinMm: 1.2 }),
    ];
    const job = planHeaders(connectors, catalogue(square, round), {});
    expect(job.connectors.map((c) => [c.id, c.part])).toEqual([
      ['A1J1', 'R-254-36'],
      ['A1J2', 'R-254-20R'],
    ]);
    expect(job.refused.map((r) => r.id)).toEqual(['A1J3']);
  });
});

describe('housings of a job', () => {
  it('come three from one: 24 gives 9, 7 and 6 with two saw cuts and nothing left', () => {
    const job = planHousings([connector('A1J1', 6), connector('A1J2', 9), connector('A1J3', 7)], long, { 'H-254-24': 1 });
    expect(job.strips).toEqual([
      {
        part: 'H-254-24',
        name: 'Housing H-254-24',
        positions: 24,
        cut: 'sawn',
        from: 'on hand',
        pieces: [
          { id: 'A1J2', from: 1, to: 9 },
          { id: 'A1J3', from: 11, to: 17 },
          { id: 'A1J1', from: 19, to: 24 },
        ],
        cuts: [
          { after: 9, lost: 10 },
          { after: 17, lost: 18 },
        ],
        left: 0,
        kept: null,
        words: 'saw through 10 and 18: A1J2 is 1 to 9, A1J3 is 11 to 17, A1J1 is 19 to 24; nothing left over',
      },
    ]);
    expect(job.connectors.map((c) => c.id)).toEqual(['A1J1', 'A1J2', 'A1J3']);
    expect(job).toMatchObject({ buy: [], refused: [], spendPence: 0, proven: true });
  });

  it('take two when the blade leaves too little: 24 does not give two of 12, scored it does', () => {
    const two = [connector('A1J1', 12), connector('A1J2', 12)];
    const sawn = planHousings(two, long, { 'H-254-24': 1 });
    expect(sawn.strips.map((s) => [s.from, s.left, s.kept])).toEqual([
      ['on hand', 11, 'offcut of H-254-24, 11 positions'],
      ['to buy', 11, 'offcut of H-254-24, 11 positions'],
    ]);
    expect(sawn.buy).toEqual([{ part: 'H-254-24', name: 'Housing H-254-24', supplier: '', packs: 1, strips: 5, pence: 480 }]);
    expect(sawn.kept).toEqual([
      { part: 'H-254-24', positions: 11 },
      { part: 'H-254-24', positions: 11 },
    ]);
    const scored = planHousings(two, catalogue(housing('H-254-24', 24, { cut: 'scored' })), { 'H-254-24': 1 });
    expect(scored.strips.map((s) => s.words)).toEqual(['break behind 12: A1J1 is 1 to 12, A1J2 is 13 to 24; nothing left over']);
  });

  it('use loose offcuts first, and name what is left of them', () => {
    const job = planHousings([connector('A1J1', 6)], long, { 'H-254-24': 3 }, [
      { part: 'H-254-24', positions: 11 },
      { part: 'H-OLD', positions: 9 },
    ]);
    expect(job.strips).toMatchObject([{ from: 'offcut', positions: 11, left: 4, kept: 'offcut of H-254-24, 4 positions' }]);
    expect(job.unused).toEqual([{ part: 'H-OLD', positions: 9 }]);
  });

  it('look at the whole job: taken one by one, the last would have to be bought', () => {
    const parts = catalogue(housing('H-254-9', 9), housing('H-254-16', 16));
    const stock = { 'H-254-9': 1, 'H-254-16': 1 };
    const job = planHousings([connector('A1J1', 7), connector('A1J2', 9), connector('A1J3', 8)], parts, stock);
    expect(planHousings([connector('A1J1', 7)], parts, stock).connectors).toMatchObject([{ part: 'H-254-9' }]); // and so spoils it for A1J2
    expect(job.spendPence).toBe(0);
    expect(job.connectors.map((c) => [c.id, c.part, c.from, c.exact])).toEqual([
      ['A1J1', 'H-254-16', 10, false],
      ['A1J2', 'H-254-9', 1, true],
      ['A1J3', 'H-254-16', 1, false],
    ]);
  });

  it('are bought in the cheapest packs, not the nearest length', () => {
    const parts = catalogue(housing('H-254-8', 8, { pack: 50, packPence: 900 }), housing('H-254-9', 9, { pack: 1, packPence: 60 }));
    expect(planHousings([connector('A1J1', 8), connector('A1J2', 8)], parts, {}).buy).toMatchObject([
      { part: 'H-254-9', packs: 2, pence: 120 },
    ]);
  });

  it('reckon a part without a price like the dearest, and do not add it to the sum', () => {
    const parts = catalogue(housing('H-254-8', 8, { packPence: undefined }), housing('H-254-9', 9, { pack: 1, packPence: 60 }));
    const cheaper = planHousings([connector('A1J1', 8)], parts, {});
    expect(cheaper.buy).toMatchObject([{ part: 'H-254-9', pence: 60 }]);
    const only = planHousings([connector('A1J1', 8)], catalogue(housing('H-254-8', 8, { packPence: undefined })), {});
    expect(only).toMatchObject({ buy: [{ part: 'H-254-8', packs: 1, pence: null }], spendPence: 0 });
  });

  it('of another pitch are planned apart', () => {
    const parts = catalogue(housing('H-254-24', 24), housing('H-396-24', 24, { pitchMm: 3.96 }));
    const job = planHousings([connector('A1J1', 9), connector('A1J2', 9, { pitchMm: 3.96 })], parts, { 'H-254-24': 1, 'H-396-24': 1 });
    expect(job.groups.map((g) => g.pitchMm)).toEqual([2.54, 3.96]);
    expect(job.connectors.map((c) => c.part)).toEqual(['H-254-24', 'H-396-24']);
  });

  it('that no part serves are refused by the name of the connector, with a mend; the others are planned', () => {
    const job = planHousings([connector('Kestrel A1J1', 26), connector('A1J2', 5)], long, { 'H-254-24': 1 });
    expect(job.refused).toEqual([
      {
        id: 'Kestrel A1J1',
        message: 'No housing for Kestrel A1J1, 26 positions at 2.54 mm, is in the catalogue.',
        mend: 'The longest of this pitch has 24. Add one of 26 positions, or a longer one that can be cut.',
      },
    ]);
    expect(job.connectors.map((c) => c.id)).toEqual(['A1J2']);
  });

  it('of no connector are none', () => {
    expect(planHousings([], long, {})).toMatchObject({ strips: [], buy: [], refused: [], groups: [], proven: true });
  });

  it('need connectors of different names', () => {
    expect(() => planHousings([connector('A1J1', 5), connector('A1J1', 6)], long, {})).toThrow(RangeError);
  });
});

describe('board headers of a job', () => {
  const strips = catalogue(strip('R-254-36', 36), strip('R-254-36-AU', 36, { plating: 'gold' }));
  it('break from one strip without loss, tin from tin and gold from gold', () => {
    const all = [connector('A1J1', 20), connector('A1J2', 16), connector('A1J3', 12, { plating: 'gold' })];
    const job = planHeaders(all, strips, { 'R-254-36': 2, 'R-254-36-AU': 1 });
    expect(job.strips.map((s) => [s.part, s.pieces.map((p) => p.id), s.left])).toEqual([
      ['R-254-36-AU', ['A1J3'], 24],
      ['R-254-36', ['A1J1', 'A1J2'], 0],
    ]);
    expect(job.groups.map((g) => g.plating)).toEqual(['gold', 'tin']);
  });

  it('are refused when only the other plating is there', () => {
    const job = planHeaders([connector('A1J1', 12, { plating: 'gold' })], catalogue(strip('R-254-36', 36)), { 'R-254-36': 1 });
    expect(job.refused).toMatchObject([{ id: 'A1J1', message: expect.stringContaining('12 positions at 2.54 mm, gold') }]);
    expect(job.refused[0]?.mend).toContain('Tin does not go with gold');
  });
});
