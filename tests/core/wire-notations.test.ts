/** Every ordered pair of the colour table in every notation, both ways that charts print a pair. Short forms: common practice, no source. */
import { describe, expect, it } from 'vitest';
import { colourNames, colours, formatWire, notations, parseWire, type StripeOrder, type WireReading } from '@/lib/core/wire';

const orders: StripeOrder[] = ['base-stripe', 'stripe-base'];
const pairs = colourNames.flatMap((base) => colourNames.flatMap((stripe) => (stripe === base ? [] : [[base, stripe] as const])));
const says = ({ base, stripe, ordered }: WireReading, wantedBase: string, wantedStripe: string) =>
  (base === wantedBase && stripe === wantedStripe) || (!ordered && base === wantedStripe && stripe === wantedBase);

describe.each(orders)('print and read again, %s', (order) => {
  it.each(notations)('%s', (notation) => {
    let printed = 0;
    for (const [base, stripe] of pairs) {
      const text = formatWire(base, stripe, notation, order);
      if (text === null) continue;
      printed += 1;
      const readings = parseWire(text, order);
      expect(readings, text).toHaveLength(1);
      expect(readings[0]?.certain, text).toBe(true);
      expect(readings[0]?.ordered, text).toBe(notation !== 'letters');
      expect(
        readings.some((r) => says(r, base, stripe)),
        text,
      ).toBe(true);
    }
    // IEC 60757 has no tan, IEC 60062 neither tan nor pink.
    expect(printed).toBe(notation === 'letters' ? 11 * 10 : notation === 'digits' ? 10 * 9 : 12 * 11);
    for (const base of colourNames) {
      const text = formatWire(base, undefined, notation, order);
      if (text !== null) expect(parseWire(text, order), text).toMatchObject([{ base, certain: true, ordered: true }]);
    }
  });

  it('every spelling and short form of both colours, with every separator, has the pair among its readings', () => {
    const forms = (name: string) =>
      colours.flatMap((c) => (c.name === name ? [c.name, ...c.spellings, ...c.short, c.iec60757 ?? c.name] : []));
    const misread: string[] = [];
    for (const [base, stripe] of pairs) {
      const [one, two] = order === 'base-stripe' ? [base, stripe] : [stripe, base];
      for (const first of forms(one)) {
        for (const second of forms(two)) {
          for (const separator of ['-', '/', ' / ', '.', '_', ' ']) {
            const text = `${first}${separator}${second}`;
            const spaced = separator === ' ';
            // One letter and "or" between spaces are English; "w/o" is "without".
            if (text === 'w/o' || (spaced && (first.length < 2 || second.length < 2 || first === 'or' || second === 'or'))) continue;
            if (!parseWire(text, order).some((r) => says(r, base, stripe))) misread.push(text);
          }
        }
      }
    }
    expect(misread).toEqual([]);
  });
});

describe('spoken forms say themselves which is the stripe, whatever the chart prints first', () => {
  const spoken = [
    'B with a S stripe',
    'B with an S stripe',
    'B wire with S tracer',
    'the B wire with the S stripe',
    'B w/ S stripe',
    'B with S',
    'B, S stripe',
    'B base, S stripe',
    'B insulation with S band',
    'S on B',
    'S stripe on B',
    'S-striped wire on B',
    'S tracer on a B wire',
    'S trace over B',
    'a S band along a B lead',
  ];
  it.each(spoken)('%s', (form) => {
    for (const [base, stripe] of pairs) {
      const text = form.replace('B', base).replace('S', stripe);
      for (const order of orders) expect(parseWire(text, order), text).toMatchObject([{ base, stripe, ordered: true, certain: true }]);
    }
  });

  it.each(['B and S', 'S-striped B', 'S stripe, B'])('%s leaves it open', (form) => {
    for (const [base, stripe] of pairs) {
      const text = form.replace('B', base).replace('S', stripe);
      const readings = parseWire(text);
      expect(readings, text).toHaveLength(1);
      expect(readings[0] && says(readings[0], base, stripe), text).toBe(true);
      expect(readings[0]?.ordered, text).toBe(false);
    }
  });
});

describe('the order of the stripe', () => {
  it.each(['grey/orange', 'GRY-ORN', '8-3', 'grey orange', 'the grey-orange wire'])('%s turns with the chart', (text) => {
    expect(parseWire(text)).toMatchObject([{ base: 'grey', stripe: 'orange', ordered: true }]);
    expect(parseWire(text, 'stripe-base')).toMatchObject([{ base: 'orange', stripe: 'grey', ordered: true }]);
  });

  it.each(['GYOG', 'GY/OG', 'gy og', 'grey and orange'])('%s does not say it in either (IEC 60757, 2021, 5.1)', (text) => {
    for (const order of orders) expect(parseWire(text, order)).toMatchObject([{ ordered: false }]);
  });

  it('prints as the chart does', () => {
    expect(notations.map((n) => formatWire('grey', 'orange', n, 'stripe-base'))).toEqual([
      'orange/grey',
      'ORN-GRY',
      '3-8',
      'OGGY',
      'grey with an orange stripe',
    ]);
    expect(notations.map((n) => formatWire('grey', undefined, n, 'stripe-base'))).toEqual(
      notations.map((n) => formatWire('grey', undefined, n)),
    );
  });

  it('keeps the protective earth what it is', () => {
    for (const order of orders) expect(parseWire('GNYE', order)[0]?.protectiveEarth).toBe(true);
  });
});
