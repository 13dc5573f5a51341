/**
 * Why a swatch never stands alone: as people with dichromacy see them, some wire colours are nearly the same. So every drawing of a wire
 * names it. Simulation: G. M. Machado, M. M. Oliveira, L. A. F. Fernandes, A Physiologically-based Model for Simulation of Color Vision
 * Deficiency, IEEE Transactions on Visualization and Computer Graphics 15(6), 2009, as culori 4.0.2 (MIT) has it.
 */
import { readFileSync } from 'node:fs';
import { type Color, differenceCiede2000, filterDeficiencyDeuter, filterDeficiencyProt, filterDeficiencyTrit, parse } from 'culori';
import type { ReactNode } from 'react';
import { describe, expect, test } from 'vitest';
import { faceView } from '@/lib/core/lookup';
import { colours, joinColour } from '@/lib/core/wire';
import { Face, Faces, MatrixMap, Positions, WireChip } from '@/lib/ui/drawings';
import { HeaderFigure } from '@/lib/ui/header-figure';
import { fixtureChart } from '../core/fixture';
import { render, textOf, valuesOf } from '../ui/markup';

const difference = differenceCiede2000();
const confused = 10; // CIEDE2000: no longer told apart at a glance on a thin wire (common practice, no source)

/** Pairs of swatches that come nearer than that as this eye sees them. */
function pairsFor(see: (colour: Color) => Color | undefined): string[] {
  const seen = colours.map(({ name, srgb }) => ({ name, colour: see(parse(srgb) as Color) as Color }));
  return seen.flatMap((a, i) =>
    seen.slice(i + 1).flatMap((b) => (difference(a.colour, b.colour) < confused ? [`${a.name}, ${b.name}`] : [])),
  );
}

describe('the swatches', () => {
  test('of the table are those drawn by day', () => {
    const css = readFileSync(new URL('../../lib/ui/styles/tokens.css', import.meta.url), 'utf8').split('@media')[0] ?? '';
    for (const { name, srgb } of colours) expect(new RegExp(`--wire-${name}: (#[0-9a-f]{6});`).exec(css)?.[1], name).toBe(srgb);
  });

  test('are told apart with full colour vision', () => expect(pairsFor((colour) => colour)).toEqual([]));

  // The reason for the names.
  test('are confused: protanopia', () => expect(pairsFor(filterDeficiencyProt(1))).toEqual(['blue, violet']));
  test('are confused: deuteranopia', () =>
    expect(pairsFor(filterDeficiencyDeuter(1))).toEqual(['brown, red', 'brown, green', 'red, green', 'blue, violet']));
  test('are not confused below that measure: tritanopia', () => expect(pairsFor(filterDeficiencyTrit(1))).toEqual([]));
});

/** Whether a drawing shows a wire's colour at all. */
const draws = (html: string, name: string) => html.includes(`var(--wire-${name})`);
/** Colours that are drawn but named neither in the text nor in an accessible name. */
function nameless(node: ReactNode): string[] {
  const html = render(node);
  const words = `${textOf(html)} ${valuesOf(html, 'aria-label').join(' ')}`.replaceAll('/ ', '/'); // lettered on two lines
  return [
    ...colours.flatMap(({ name }) => (draws(html, name) && !new RegExp(`\\b${name}\\b`).test(words) ? [name] : [])),
    ...new Set(valuesOf(html, 'data-wire').filter((wire) => !words.includes(wire))),
  ];
}

describe('wherever a swatch is drawn its name is given', () => {
  const wires = colours.flatMap(({ name: base }) => [base, ...colours.flatMap((c) => (c.name === base ? [] : [joinColour(base, c.name)]))]);

  test.each(wires)('chip of %s', (wire) => {
    const html = render(<WireChip colour={wire} />);
    for (const part of wire.split('/')) expect(draws(html, part), part).toBe(true);
    expect(textOf(html)).toContain(wire);
    expect(nameless(<WireChip colour={wire} />)).toEqual([]);
  });

  const faces = [...fixtureChart.headers.keys()].flatMap((id) => faceView(fixtureChart, id) ?? []);
  // The narrow form stands only in `Faces`, whose list of positions names its wires.
  test('every connector, every view', () => {
    expect(faces.length).toBeGreaterThan(3);
    for (const face of faces) {
      for (const view of ['H1', 'H2', 'P1', 'P2'] as const)
        expect(nameless(<Face face={face} view={view} />), `${face.housing} ${view}`).toEqual([]);
      expect(nameless(<Faces face={face} idPrefix="f" />), face.housing).toEqual([]);
      expect(nameless(<Positions face={face} />), face.housing).toEqual([]);
      expect(nameless(<HeaderFigure chart={fixtureChart} header={face.header.id} idPrefix="h" />), face.housing).toEqual([]);
    }
  });

  test('the matrix', () => {
    const matrix = <MatrixMap chart={fixtureChart} idPrefix="m" lit="46" />;
    expect(draws(render(matrix), 'violet')).toBe(true);
    expect(nameless(matrix)).toEqual([]);
  });

  test('the check itself finds a swatch without a name', () => {
    const bare = <i data-wire="red" className="var(--wire-red)" />;
    expect(nameless(bare)).toEqual(['red', 'red']);
    expect(
      nameless(
        <button type="button" aria-label="red">
          {bare}
        </button>,
      ),
    ).toEqual([]);
  });
});
