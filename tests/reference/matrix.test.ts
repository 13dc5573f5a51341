/** Counts of a scanned matrix: positions = rows × columns over rows + columns lines. */
import { describe, expect, it } from 'vitest';
import { allCells, indexChart, matrixSize, printedNumber } from '@/lib/core/chart';
import type { BoardDesign, Machine } from '@/lib/core/chart/schema';
import { fixtureDesign, fixtureMachine } from '../core/fixture';
import reference from './matrix.json';

const net = fixtureDesign.nets[0]!;
const lines = (axis: 'column' | 'row', count: number): BoardDesign['nets'] =>
  Array.from({ length: count }, (_, i) => ({ ...net, id: `switch-${axis}.${i + 1}`, kind: `switch-${axis}` as const, number: i + 1 }));

describe('matrix counts', () => {
  it.each(reference.counts)('$rows rows and $columns columns', ({ rows, columns, positions, lines: wires }) => {
    const design: BoardDesign = { ...fixtureDesign, nets: [...lines('column', columns), ...lines('row', rows)], headers: [] };
    const size = matrixSize(design);
    const cells = allCells(size);
    expect(cells).toHaveLength(positions);
    const machine: Machine = {
      ...fixtureMachine,
      numbering: { order: 'down-columns', first: 1, width: 2 },
      switches: cells.map((cell) => ({ ...fixtureMachine.switches[0]!, ...cell, name: `Switch ${cell.column} ${cell.row}` })),
      direct: [],
      chains: [],
    };
    const chart = indexChart(machine, design);
    expect(chart.columns.length + chart.rows.length).toBe(wires);
    expect(chart.nets.size).toBe(wires);
    expect(chart.circuit.size).toBe(positions);
    expect(printedNumber(machine.numbering, columns, rows, size)).toBe(String(positions));
    for (const c of chart.circuits) expect(c.nets).toHaveLength(2);
  });
});
