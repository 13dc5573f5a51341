/** A small invented catalogue for tests. Part numbers, prices and figures are made up; only the forms are the trade's. */
import { indexChart } from '@/lib/core/chart';
import { type BoardDesign, boardDesign, type Header } from '@/lib/core/chart/schema';
import type { Chart, WireEnd } from '@/lib/core/chart/types';
import { type Catalogue, catalogue, type Stock, type TerminalPart } from '@/lib/core/parts/schema';
import { fixtureDesign, fixtureMachine } from './fixture';

const small = ['T-254-S', 'T-254-L', 'T-254-AU'];
const housing = (id: string, pitchMm: number, positions: number, terminals: string[], more: object = {}) => ({
  id,
  kind: 'housing',
  name: `Housing, ${pitchMm} mm, ${positions} positions`,
  supplier: 'Gullwick Components',
  pack: 10,
  packPence: 300,
  place: 'Drawer 1',
  pitchMm,
  positions,
  cut: 'sawn',
  terminals,
  ...more,
});
const terminal = (id: string, pitchMm: number, awg: number[], insulationMm: number[], amps: number, more: object = {}) => ({
  id,
  kind: 'terminal',
  name: `Terminal, ${pitchMm} mm, ${awg[0]} to ${awg[1]} AWG`,
  supplier: 'Gullwick Components',
  pack: 100,
  packPence: 600,
  pitchMm,
  awg,
  insulationMm,
  plating: 'tin',
  amps,
  stripMm: 3.2,
  ...more,
});

export const fixtureCatalogueJson = {
  format: 'fettlebook-parts/1',
  parts: [
    housing('H-254-9', 2.54, 9, small),
    housing('H-254-11', 2.54, 11, small),
    housing('H-254-16', 2.54, 16, small),
    housing('H-254-20', 2.54, 20, small, { cut: 'no' }),
    housing('H-396-6', 3.96, 6, ['T-396-S', 'T-396-L']),
    housing('H-396-12', 3.96, 12, ['T-396-S', 'T-396-L']),
    housing('H-396-18', 3.96, 18, ['T-396-S', 'T-396-L'], { cut: 'scored' }),
    terminal('T-254-S', 2.54, [22, 30], [0.8, 2], 3),
    terminal('T-254-L', 2.54, [18, 20], [1.3, 3], 4),
    terminal('T-254-AU', 2.54, [22, 30], [0.8, 2], 3, { plating: 'gold', packPence: 1200 }),
    terminal('T-396-S', 3.96, [22, 26], [1, 2.4], 5),
    terminal('T-396-L', 3.96, [16, 20], [1.5, 4.2], 7, { ratedWires: 2 }),
    { id: 'K-254', kind: 'key', name: 'Keying plug, 2.54 mm', pack: 10, packPence: 180, pitchMm: 2.54 },
    {
      id: 'R-254-36',
      kind: 'header',
      name: 'Header strip, 2.54 mm',
      pack: 5,
      packPence: 395,
      pitchMm: 2.54,
      positions: 36,
      plating: 'tin',
      cut: 'scored',
    },
    { id: 'F-4S', kind: 'other', name: 'Fuse, 4 A slow', pack: 10, packPence: 190 },
    { id: 'X-SLEEVE', kind: 'other', name: 'Sleeve, 3 mm' },
  ],
};
export const fixtureCatalogue: Catalogue = catalogue.parse(fixtureCatalogueJson);
export const fixtureStock: Stock = { 'H-254-9': 2, 'H-254-16': 6, 'H-396-12': 1, 'T-254-S': 140, 'T-254-L': 5, 'T-396-L': 40, 'K-254': 0 };

/** The catalogue with some parts left out. */
export const without = (...ids: string[]): Catalogue => ({
  ...fixtureCatalogue,
  parts: fixtureCatalogue.parts.filter((p) => !ids.includes(p.id)),
});

export function terminalPart(id: string, change: Partial<TerminalPart> = {}): TerminalPart {
  const found = fixtureCatalogue.parts.find((p) => p.id === id);
  if (found?.kind !== 'terminal') throw new RangeError(`${id} is no terminal of the fixture`);
  return { ...found, ...change };
}

/** A wire with a measured insulation. */
export const wire = (awg: number, insulationMm: number, more: Partial<WireEnd> = {}): WireEnd => ({
  colour: 'grey/orange',
  awg,
  insulationMm,
  insulationKnown: true,
  ...more,
});

type HeaderInput = Pick<Header, 'positions' | 'pins'> & Partial<Header>;
/** The fixture chart with one more header, `A9J1` unless it says otherwise, and nets for it. */
export function chartWith(header: HeaderInput, nets: BoardDesign['nets'] = []): Chart {
  const added = { id: 'A9J1', pitchMm: 2.54, plating: 'tin', termination: 'crimp', keys: [], ...header };
  const design = boardDesign.parse({
    ...fixtureDesign,
    boards: [...fixtureDesign.boards, { designator: 'A9', name: 'Extra board' }],
    nets: [...fixtureDesign.nets, ...nets],
    headers: [...fixtureDesign.headers, added],
  });
  return indexChart(fixtureMachine, design);
}
