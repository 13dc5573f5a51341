/** Lists printed in two columns or more: the same headings again and again in one row. */
import { headingKey } from '../read/synonyms';
import type { ColumnMeaning, Table, Understanding } from '../types';

const searched = 12; // rows in which headings may stand

interface At {
  row: number;
  column: number;
}
interface Unfolded {
  rows: string[][];
  /** Where a cell of the unfolded rows stands in the table. */
  back(at: At): At;
  blocks: number;
  width: number; // columns of one block
}

/** The blocks of such a list one below the other, so that it reads as any list; null when the table is none. */
export function unfold({ rows }: Table): Unfolded | null {
  for (const [head, cells] of rows.slice(0, searched).entries()) {
    const width = periodOf(cells.map(headingKey));
    if (width === 0) continue;
    const blocks = Math.ceil(cells.length / width);
    const body = rows.slice(head + 1);
    const block = (b: number) => body.map((row) => row.slice(b * width, (b + 1) * width));
    return {
      rows: [...rows.slice(0, head), cells.slice(0, width), ...Array.from({ length: blocks }, (_, b) => block(b)).flat()],
      blocks,
      width,
      back({ row, column }) {
        const below = row - head - 2; // from 0 in the stacked body
        if (below < 0 || body.length === 0) return { row, column };
        const b = Math.floor(below / body.length);
        return { row: head + 2 + (below % body.length), column: column + b * width };
      },
    };
  }
  return null;
}

/** After how many headings they begin again; 0: they do not. One heading alone, or a blank, makes no block. */
function periodOf(heads: readonly string[]): number {
  for (let width = 2; width * 2 <= heads.length; width += 1) {
    const first = heads.slice(0, width);
    if (first.filter(Boolean).length < 2 || new Set(first).size < width) continue;
    if (heads.length % width === 0 && heads.every((head, i) => head === heads[i % width])) return width;
  }
  return 0;
}

/** What was understood of the unfolded rows, by the places of the table. */
export function folded(read: Understanding, { back, blocks, width }: Unfolded): Understanding {
  const moved = <T extends At>(item: T): T => ({ ...item, ...back(item) });
  const columns = Array.from({ length: blocks }, (_, b) => read.columns.map((c): ColumnMeaning => ({ ...c, index: c.index + b * width })));
  return {
    ...read,
    columns: columns.flat(),
    rows: read.rows.map((u) => ({ ...u, at: back(u.at) })),
    asks: read.asks.map((q) => ({ ...q, at: back(q.at) })),
    not: read.not.map(moved),
    findings: read.findings.map((f) => (f.row === 0 ? f : moved(f))),
  };
}
