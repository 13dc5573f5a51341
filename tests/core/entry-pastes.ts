/** Pastes as people copy them, made from an invented machine on the demo's board design. */
import { readFileSync } from 'node:fs';
import { type BoardDesign, boardDesign, type Machine, machine } from '@/lib/core/chart/schema';
import { formatWire, type Notation, splitColour } from '@/lib/core/wire';

const json = (path: string): unknown => JSON.parse(readFileSync(new URL(`../../content/${path}`, import.meta.url), 'utf8'));
export const designOf = (id: string): BoardDesign => boardDesign.parse(json(`designs/${id}.json`));
export const machineOf = (id: string): Machine => machine.parse(json(`machines/${id}.json`));
export const sb2 = designOf('sb-2');

const first = ['Gull', 'Cockle', 'Oyster', 'Whelk', 'Limpet', 'Crab', 'Tern', 'Heron'];
const second = ['lane', 'target', 'gate', 'ramp', 'saucer', 'spinner', 'roll-under', 'bumper'];
/** 64 invented names. */
export const nameAt = (column: number, row: number): string => `${first[column - 1]} ${second[row - 1]}`;
export const lines = [1, 2, 3, 4, 5, 6, 7, 8];

export const colourOf = (design: BoardDesign, id: string, notation: Notation = 'names'): string => {
  const { base, stripe } = splitColour(design.nets.find((n) => n.id === id)?.colour ?? '');
  return formatWire(base, stripe, notation) ?? '';
};
export const pinOfLine = (design: BoardDesign, id: string): string =>
  design.headers.flatMap((h) => h.pins.flatMap((p) => (p.net === id ? [`${h.id}-${p.position}`] : [])))[0] ?? '';

/** A field as a spreadsheet writes it. */
export const quoted = (cell: string, delimiter = '\t'): string =>
  cell.includes('"') || cell.includes('\n') || cell.includes('\r') || cell.includes(delimiter) ? `"${cell.replaceAll('"', '""')}"` : cell;
export const sheet = (rows: readonly (readonly string[])[], delimiter = '\t', end = '\r\n'): string =>
  rows.map((row) => row.map((cell) => quoted(cell, delimiter)).join(delimiter)).join(end) + end;

/** The matrix as a grid; heads of both axes with wire and pin, cells of number and name. */
export function matrixGrid({
  design = sb2,
  between = ' ',
  notation = 'short',
  matrix = 'switch',
}: {
  design?: BoardDesign;
  between?: string;
  notation?: Notation;
  matrix?: 'switch' | 'lamp';
} = {}): string[][] {
  const head = (axis: 'column' | 'row', n: number) => {
    const id = `${matrix}-${axis}.${n}`;
    return `${axis === 'column' ? 'Column' : 'Row'} ${n}\n${colourOf(design, id, notation)}\n${pinOfLine(design, id)}`;
  };
  return [
    ['', ...lines.map((c) => head('column', c))],
    ...lines.map((r) => [head('row', r), ...lines.map((c) => `${c}${r}${between}${nameAt(c, r)}`)]),
  ];
}

/** The same as a list, one switch a row. */
export function switchList({ design = sb2, notation = 'short' }: { design?: BoardDesign; notation?: Notation } = {}): string[][] {
  return [
    ['No.', 'Switch name', 'Column', 'Wire', 'Pin', 'Row', 'Wire', 'Pin', 'Device', 'Normally', 'Location'],
    ...lines.flatMap((c) =>
      lines.map((r) => {
        const [column, row] = [`switch-column.${c}`, `switch-row.${r}`];
        const opto = r === 8;
        return [
          `${c}${r}`,
          nameAt(c, r),
          String(c),
          colourOf(design, column, notation),
          pinOfLine(design, column),
          String(r),
          colourOf(design, row, notation),
          pinOfLine(design, row),
          opto ? 'Opto' : r % 2 ? 'Leaf' : 'Microswitch',
          opto ? 'NC' : 'NO',
          `playfield, bank ${c}`,
        ];
      }),
    ),
  ];
}
