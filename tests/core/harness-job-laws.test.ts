/** Laws of cutting plans, on random jobs with housings of one pitch, packs to buy and loose offcuts. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Header } from '@/lib/core/chart/schema';
import { chooseHousing, type Job, type JobConnector, type Offcut, planHousings } from '@/lib/core/harness';
import { compareCost } from '@/lib/core/harness/cutting-model';
import { catalogue as catalogueSchema, type Stock } from '@/lib/core/parts/schema';

fc.configureGlobal({ seed: 1985, numRuns: 80 }); // the same cases at every run

const header = (positions: number): Header => ({
  id: 'A3J4',
  positions,
  pitchMm: 2.54,
  keys: [],
  plating: 'tin',
  termination: 'crimp',
  pins: [],
});
const housing = fc.record(
  {
    positions: fc.integer({ min: 3, max: 24 }),
    cut: fc.constantFrom('sawn', 'sawn', 'scored', 'no'),
    pack: fc.integer({ min: 1, max: 10 }),
    packPence: fc.integer({ min: 20, max: 600 }),
  },
  { requiredKeys: ['positions', 'cut', 'pack'] },
);
const job = fc
  .record({
    housings: fc.array(housing, { minLength: 1, maxLength: 5 }),
    counts: fc.array(fc.integer({ min: 0, max: 4 }), { minLength: 5, maxLength: 5 }),
    lengths: fc.array(fc.integer({ min: 2, max: 20 }), { maxLength: 14 }),
    loose: fc.array(fc.record({ of: fc.integer({ min: 0, max: 4 }), positions: fc.integer({ min: 2, max: 19 }) }), { maxLength: 4 }),
  })
  .map(({ housings, counts, lengths, loose }) => {
    const parts = housings.map((h, i) => ({ ...h, id: `H-${i}`, kind: 'housing', name: `Housing ${i}`, pitchMm: 2.54, terminals: ['T'] }));
    const connectors = lengths.map((positions, i): JobConnector => ({ id: `job ${i}`, header: header(positions) }));
    const stock: Stock = Object.fromEntries(parts.map((p, i) => [p.id, counts[i]!]));
    const offcuts = loose.filter((o) => o.of < parts.length).map((o): Offcut => ({ part: `H-${o.of}`, positions: o.positions }));
    return { connectors, catalogue: catalogueSchema.parse({ format: 'fettlebook-parts/1', parts }), stock, offcuts };
  });
type Input = typeof job extends fc.Arbitrary<infer T> ? T : never;
const plan = ({ connectors, catalogue, stock, offcuts }: Input) => planHousings(connectors, catalogue, stock, offcuts);
const costOf = (result: Job) => result.groups[0]?.cost;

describe('every cutting plan', () => {
  it('serves or refuses each connector once, each from one strip that holds it', () => {
    fc.assert(
      fc.property(job, (input) => {
        const result = plan(input);
        const all = [...result.connectors, ...result.refused].map((c) => c.id);
        expect(all.sort()).toEqual(input.connectors.map((c) => c.id).sort());
        for (const place of result.connectors) {
          const wanted = input.connectors.find((c) => c.id === place.id)!.header.positions;
          const strip = result.strips[place.strip]!;
          expect(place.to - place.from + 1).toBe(wanted);
          expect(strip.pieces.filter((p) => p.id === place.id)).toEqual([{ id: place.id, from: place.from, to: place.to }]);
        }
      }),
    );
  });

  it('accounts for every position of every strip: pieces, what the blade takes, what is left', () => {
    fc.assert(
      fc.property(job, (input) => {
        for (const strip of plan(input).strips) {
          const used = [
            ...strip.pieces.flatMap((p) => Array.from({ length: p.to - p.from + 1 }, (_, i) => p.from + i)),
            ...strip.cuts.flatMap((c) => c.lost ?? []),
            ...Array.from({ length: strip.left }, (_, i) => strip.positions - strip.left + 1 + i),
          ];
          expect(used.sort((a, b) => a - b)).toEqual(Array.from({ length: strip.positions }, (_, i) => i + 1));
          if (strip.cut === 'no') expect(strip.cuts).toEqual([]);
          for (const cut of strip.cuts) expect(cut.lost).toBe(strip.cut === 'sawn' ? cut.after + 1 : null);
          expect(strip.kept !== null).toBe(strip.left >= 3);
        }
      }),
    );
  });

  it('takes no more than is on hand, loose or bought, and buys no pack that it does not open', () => {
    fc.assert(
      fc.property(job, (input) => {
        const { strips, buy } = plan(input);
        for (const { id, positions, pack } of input.catalogue.parts.filter((p) => p.kind === 'housing')) {
          const from = (where: string, length: number) =>
            strips.filter((s) => s.part === id && s.from === where && s.positions === length).length;
          expect(from('on hand', positions)).toBeLessThanOrEqual(input.stock[id]!);
          const bought = buy.find((b) => b.part === id)?.packs ?? 0;
          expect(bought).toBe(Math.ceil(from('to buy', positions) / pack));
          if (bought > 0) expect(from('on hand', positions)).toBe(input.stock[id]!);
          for (let length = 1; length < 24; length++)
            expect(from('offcut', length)).toBeLessThanOrEqual(input.offcuts.filter((o) => o.part === id && o.positions === length).length);
        }
      }),
    );
  });

  it('does not depend on the order of connectors, catalogue or offcuts', () => {
    fc.assert(
      fc.property(job, (input) => {
        const { connectors, catalogue, offcuts } = input;
        const turned: Input = {
          ...input,
          connectors: [...connectors].reverse(),
          catalogue: { ...catalogue, parts: [...catalogue.parts].reverse() },
          offcuts: [...offcuts].reverse(),
        };
        const [a, b] = [plan(input), plan(turned)];
        expect({ ...b, connectors: [], refused: [], unused: [] }).toEqual({ ...a, connectors: [], refused: [], unused: [] });
        expect(b.connectors.toReversed()).toEqual(a.connectors);
        expect(b.refused.toReversed()).toEqual(a.refused);
      }),
    );
  });

  it('never costs more with more on hand, and never pays more for fewer connectors', () => {
    fc.assert(
      fc.property(job, fc.nat(4), (input, which) => {
        const now = costOf(plan(input));
        if (!now) return;
        const part = input.catalogue.parts[which % input.catalogue.parts.length]!;
        const richer = costOf(plan({ ...input, stock: { ...input.stock, [part.id]: input.stock[part.id]! + 1 } }))!;
        expect(compareCost(richer, now)).toBeLessThanOrEqual(0);
        const fewer = costOf(plan({ ...input, connectors: input.connectors.slice(1) }));
        if (now.unmet === 0 && fewer) expect(fewer.spend).toBeLessThanOrEqual(now.spend);
      }),
    );
  });

  it('is what one connector by itself gets from the connector plan', () => {
    fc.assert(
      fc.property(job, fc.integer({ min: 1, max: 24 }), (input, positions) => {
        const { choice } = chooseHousing(header(positions), input.catalogue, input.stock);
        const result = planHousings([{ id: 'A3J4', header: header(positions) }], input.catalogue, input.stock);
        const [refusal] = result.refused;
        if (choice.how === 'none') {
          expect(refusal).toEqual({ id: 'A3J4', message: choice.message, mend: choice.mend });
          return;
        }
        const [strip] = result.strips;
        expect(strip?.part).toBe(choice.part);
        expect(strip?.from).toBe('onHand' in choice && choice.onHand > 0 ? 'on hand' : 'to buy');
        expect(strip?.cuts.length).toBe(choice.how === 'cut' ? 1 : 0);
        if (choice.how === 'cut') expect(strip?.left).toBe(choice.offcut);
      }),
    );
  });
});
