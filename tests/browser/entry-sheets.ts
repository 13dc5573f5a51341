/** What people paste, made from an invented machine on board design SB-2. Plain text: the browser tests load nothing of the product. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';

interface Design {
  nets: { id: string; colour: string }[];
  headers: { id: string; pins: { position: number; net: string }[] }[];
}
const sb2 = JSON.parse(readFileSync(join(import.meta.dirname, '..', '..', 'content', 'designs', 'sb-2.json'), 'utf8')) as Design;
const first = ['Gull', 'Cockle', 'Oyster', 'Whelk', 'Limpet', 'Crab', 'Tern', 'Heron'];
const second = ['lane', 'target', 'gate', 'ramp', 'saucer', 'spinner', 'roll-under', 'bumper'];
const lines = [1, 2, 3, 4, 5, 6, 7, 8];

/** 64 invented names. */
export const nameAt = (column: number, row: number) => `${first[column - 1]} ${second[row - 1]}`;
export const colourOf = (id: string) => sb2.nets.find((net) => net.id === id)?.colour ?? '';
const pinOf = (id: string) => sb2.headers.flatMap((h) => h.pins.flatMap((p) => (p.net === id ? [`${h.id}-${p.position}`] : [])))[0] ?? '';

const quoted = (cell: string) => (/["\t\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell);
export const sheet = (rows: readonly (readonly string[])[]) => `${rows.map((row) => row.map(quoted).join('\t')).join('\r\n')}\r\n`;

/** The matrix as a grid: heads with wire and pin, cells of number and name. */
export function matrixGrid(): string[][] {
  const head = (axis: 'column' | 'row', n: number) => {
    const id = `switch-${axis}.${n}`;
    return `${axis === 'column' ? 'Column' : 'Row'} ${n}\n${colourOf(id)}\n${pinOf(id)}`;
  };
  return [
    ['', ...lines.map((c) => head('column', c))],
    ...lines.map((r) => [head('row', r), ...lines.map((c) => `${c}${r} ${nameAt(c, r)}`)]),
  ];
}

/** The same as a list, one switch a row. */
export function switchList(): string[][] {
  const body = lines.flatMap((c) =>
    lines.map((r) => [
      `${c}${r}`,
      nameAt(c, r),
      String(c),
      colourOf(`switch-column.${c}`),
      String(r),
      colourOf(`switch-row.${r}`),
      r % 2 ? 'Leaf' : 'Microswitch',
      'NO',
    ]),
  );
  return [['No.', 'Switch name', 'Column', 'Wire', 'Row', 'Wire', 'Device', 'Normally'], ...body];
}
