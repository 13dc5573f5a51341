/** Positions of in-line connectors as rows of a table, one a wire of either half, and back. */
import type { Json } from '../../rows';
import { wirePaths } from './export-fields';

type Row = { [key: string]: Json };
const lists = { board: 'wires', far: 'far' } as const;

export const inlineRows = (pins: readonly Row[]): Row[] =>
  pins.flatMap(({ pin = null, net = null, wires, far }, i): Row[] => {
    const entry = { entry: i + 1, pin, net };
    const of = (half: keyof typeof lists, list: Json | undefined) =>
      ((list ?? []) as Row[]).map((wire, w) => ({ ...entry, half, wire: w + 1, ...wire }));
    const rows = [...of('board', wires), ...of('far', far)];
    return rows.length > 0 ? rows : [entry];
  });

/** Rows of one entry stand together; without entries, those of one position do. `wrong`: index of each row whose half is none. */
export function inlinePinsOf(rows: readonly Row[]): { pins: Row[]; wrong: number[] } {
  const wrong: number[] = [];
  const pins: Row[] = [];
  let before: Json | undefined;
  for (const [i, { entry, pin = null, net = null, half, wire: _, ...rest }] of rows.entries()) {
    const key = entry ?? `${String(pin)} ${String(net)}`;
    const last = key === before ? pins.at(-1) : undefined;
    before = key;
    const own = Object.fromEntries(Object.entries(rest).filter(([field]) => wirePaths.includes(field)));
    const list = half === 'board' || half === 'far' ? lists[half] : undefined;
    if (half !== undefined && list === undefined) wrong.push(i);
    const into = last ?? { pin, net };
    if (list !== undefined) into[list] = [...((into[list] ?? []) as Row[]), own];
    if (!last) pins.push(into);
  }
  return { pins, wrong };
}
