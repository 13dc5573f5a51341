/** The theme's colours measured in both themes, from the style sheet itself. */
import { readFileSync } from 'node:fs';
import { differenceCiede2000 } from 'culori';
import { describe, expect, test } from 'vitest';
import { colourNames } from '@/lib/core/wire/colours';
import reference from '../reference/contrast.json';

const css = readFileSync(new URL('../../lib/ui/styles/tokens.css', import.meta.url), 'utf8');
const [lightCss = '', darkCss = ''] = css.split('@media screen and (prefers-color-scheme: dark)');
const read = (part: string) =>
  new Map([...part.matchAll(/--([\w-]+):\s*(#[0-9a-f]{6})(?:[0-9a-f]{2})?;/g)].map(([, name = '', hex = '']) => [name, hex]));
const themes = { light: read(lightCss), dark: read(darkCss.split('@media print')[0] ?? '') };
const token = (theme: keyof typeof themes, name: string) => {
  const hex = themes[theme].get(name);
  if (!hex) throw new Error(`no ${name} in the ${theme} theme`);
  return hex;
};

const channels = (hex: string) =>
  (hex.length === 4 ? [...hex.slice(1)].map((c) => c + c) : (hex.slice(1).match(/../g) ?? [])).map((c) => Number.parseInt(c, 16) / 255);
const luminance = (hex: string) => {
  const [r = 0, g = 0, b = 0] = channels(hex).map((v) => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4));
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
};
const contrast = (a: string, b: string) => {
  const [high = 0, low = 0] = [luminance(a), luminance(b)].sort((x, y) => y - x);
  return (high + 0.05) / (low + 0.05);
};

// Source: W3C, ACT rule afw4f7 and WCAG 2.2 definition of contrast ratio; figures in tests/reference/contrast.json.
describe('the measure agrees with the published figures', () => {
  test.each(reference.rows)('$foreground on $background', ({ foreground, background, exact, printed }) => {
    const ratio = contrast(foreground, background);
    expect(ratio).toBeCloseTo(exact, 4);
    if (printed) expect(Math.abs(ratio - printed)).toBeLessThan(0.06); // printed figures are rounded or cut
  });
});

// Thresholds: WCAG 2.2, 1.4.3, 1.4.6 and 1.4.11. Body text is held to 7 (1.4.6), as lib/ui promises.
const { AAA_text: body, AA_text: text, non_text: drawn } = reference.thresholds;
const needs: [string, string, number][] = [
  ['ink', 'paper', body],
  ['ink', 'paper-2', body],
  ['ink', 'verdigris-2', body],
  ['on-ink', 'ink', body],
  ['caution-ink', 'caution', body],
  ['ink-2', 'paper', text],
  ['ink-2', 'paper-2', text],
  ['ink-2', 'verdigris-2', text],
  ['verdigris', 'paper', text],
  ['verdigris', 'paper-2', text],
  ['edge-dark', 'paper', drawn],
  ['edge-dark', 'paper-2', drawn],
];

describe.each(['light', 'dark'] as const)('%s theme', (theme) => {
  test.each(needs)('%s on %s reaches %f', (front, ground, least) => {
    expect(contrast(token(theme, front), token(theme, ground))).toBeGreaterThanOrEqual(least);
  });

  test.each(colourNames.map((name) => [name]))('a %s wire stands out from its ground, by itself or by its edge', (name) => {
    const edge = new RegExp(`--wire-${name}-edge: var\\(--(edge-\\w+)\\)`).exec(css)?.[1];
    expect(edge).toBeDefined();
    for (const ground of ['paper', 'paper-2']) {
      const best = Math.max(
        contrast(token(theme, `wire-${name}`), token(theme, ground)),
        contrast(token(theme, edge ?? ''), token(theme, ground)),
      );
      expect(best).toBeGreaterThanOrEqual(drawn);
    }
  });

  // Common practice, no source: 20 in CIEDE2000 is far beyond a just noticeable difference (about 1 to 2), so no two wires are mistaken.
  test('no two wire colours look alike', () => {
    const difference = differenceCiede2000();
    const pairs = colourNames.flatMap((a, i) =>
      colourNames.slice(i + 1).map((b) => ({ a, b, d: difference(token(theme, `wire-${a}`), token(theme, `wire-${b}`)) })),
    );
    expect(pairs.filter(({ d }) => d < 19.5)).toEqual([]);
  });
});

test('both themes give the same tokens', () => {
  expect([...themes.dark.keys()].sort()).toEqual([...themes.light.keys()].sort());
});
