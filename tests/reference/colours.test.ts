/** The colour table against IEC 60757 and IEC 60062. */
import { describe, expect, it } from 'vitest';
import { colourNames, colourOf, formatWire, parseWire, readColour } from '@/lib/core/wire';
import standard from './colours.json';

const ours = (standard.letters as [number, string, string][]).filter(([, , colour]) => colourNames.includes(colour));

describe('IEC 60757 letters', () => {
  it('gives each colour of ours its code, and a colour that the standard lacks none', () => {
    expect(ours.map(([, code, colour]) => [colour, code])).toEqual(ours.map(([, , colour]) => [colour, colourOf(colour)?.iec60757]));
    const coded = ours.map(([, , colour]) => colour);
    expect(colourNames.filter((name) => !coded.includes(name))).toEqual(['tan']);
    expect(colourOf('tan')?.iec60757).toBeNull();
  });

  it('keeps the order of its table, by which codes are joined', () => {
    const inOrder = ours.toSorted(([a], [b]) => a - b).map(([, , colour]) => colour);
    expect(colourNames.filter((name) => inOrder.includes(name))).toEqual(inOrder);
    for (const [one, two, joined] of standard.joined as [string, string, string][]) {
      expect(formatWire(one, two, 'letters')).toBe(joined);
      expect(formatWire(two, one, 'letters')).toBe(joined);
      expect(parseWire(joined)).toMatchObject([{ ordered: false, notation: 'letters' }]);
    }
  });

  it('reads lower case alike (1983 edition), and takes no other short form for a code', () => {
    for (const [, code, colour] of ours) expect(readColour(code.toLowerCase())).toEqual({ colours: [colour], as: 'letters' });
    for (const form of standard.not_a_code) expect(readColour(form)?.as).toBe('short');
  });
});

describe('IEC 60062 digits', () => {
  it('gives the ten digits to ten colours, and none to the others', () => {
    const digits = Object.fromEntries((standard.digits as [number, string][]).map(([digit, colour]) => [colour, digit]));
    expect(Object.keys(digits)).toHaveLength(10);
    for (const name of colourNames) expect(colourOf(name)?.digit ?? null, name).toBe(digits[name] ?? null);
    for (const [digit, colour] of standard.digits as [number, string][]) {
      const other = digit === 0 ? 1 : 0;
      expect(parseWire(`${digit}-${other}`)[0]?.base).toBe(colour);
    }
  });
});
