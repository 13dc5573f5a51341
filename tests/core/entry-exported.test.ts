/** The tables that a chart is exported in, pasted as any other table: the chart comes back. */
import { describe, expect, it } from 'vitest';
import { indexChart } from '@/lib/core/chart/build';
import {
  applyTable,
  type EntryChart,
  emptyDesign,
  emptyMachine,
  exportTables,
  readTable,
  type TableKind,
  understand,
} from '@/lib/core/chart/entry';
import { designOf, machineOf } from './entry-pastes';

const demo = (['lantern-regatta-3', 'kestrel-post-1', 'tin-orchard'] as const).map((id) => {
  const machine = machineOf(id);
  return { machine, design: designOf(machine.design.toLowerCase()) };
});

function pasted(chart: EntryChart, csv: string, kind: TableKind): EntryChart {
  const read = understand(readTable(csv), chart);
  expect({ kind: read.kind, asks: read.asks, not: read.not }).toEqual({ kind, asks: [], not: [] });
  const { chart: next, findings } = applyTable(chart, read);
  expect(findings).toEqual([]);
  return next;
}

describe.each(demo)('the tables of $machine.id', ({ machine, design }) => {
  const csv = (name: string) => exportTables({ machine, design }).find((f) => f.name === `${name}.csv`)?.csv ?? '';

  it('fill an empty machine on its board design', () => {
    let chart: EntryChart = { design, machine: emptyMachine(design, { id: machine.id, name: machine.name, numbering: machine.numbering }) };
    for (const [name, kind] of [
      ['switches', 'switches'],
      ['direct-switches', 'switches'],
      ['lamps', 'lamps'],
      ['loads', 'loads'],
      ['lamp-strings', 'strings'],
      ['in-line-connectors', 'headers'],
      ['in-line-pins', 'pins'],
      ['harness', 'harness'],
    ] as const) {
      if (csv(name) === '') continue; // a chart without in-line connectors has no table of them
      chart = pasted(chart, csv(name), kind);
    }
    const { switches, direct, lamps, loads, illumination, chains, inline, inlinePins } = chart.machine;
    expect({ switches, direct, lamps, loads, illumination, chains, inline, inlinePins }).toEqual({
      switches: machine.switches,
      direct: machine.direct,
      lamps: machine.lamps,
      loads: machine.loads,
      illumination: machine.illumination,
      chains: machine.chains,
      inline: machine.inline,
      inlinePins: machine.inlinePins,
    });
    expect(chart.design).toBe(design);
  });

  it('fill an empty board design', () => {
    const empty = emptyDesign({ id: design.id, name: design.name, boards: design.boards, matrix: design.matrix });
    let chart: EntryChart = { machine, design: empty };
    chart = pasted(chart, csv('headers'), 'headers');
    chart = pasted(chart, csv('lines'), 'lines');
    chart = pasted(chart, csv('pins'), 'pins');
    expect(chart.design.nets).toEqual(design.nets);
    // What a wire has from its line need not be said again, so the wires are compared with it.
    expect(indexChart(machine, chart.design).pins).toEqual(indexChart(machine, design).pins);
    expect(chart.design.headers.map(({ pins, beside, ...rest }) => rest)).toEqual(design.headers.map(({ pins, beside, ...rest }) => rest));
  });
});
