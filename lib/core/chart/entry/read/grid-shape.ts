/** Whether a table is the grid of a matrix, and where its heads end. */

export interface GridShape {
  /** Heads of the lines across the top and down the side, all their cells joined. */
  top: { text: string; row: number; column: number }[];
  side: { text: string; row: number; column: number }[];
  cells: { text: string; row: number; column: number; across: number; down: number }[]; // indices into top and side
  title: string;
  sure: number;
  headColumns: number;
  headRows: number; // rows above the first row of cells
}

const numbered = /^(?:sw\.?\s*|no\.?\s*)?(?:[A-Za-z]{0,2}-?\d{1,3}|\d[A-Fa-f]|[A-Fa-f]\d)(?:[\s.:)–-]+)(?=\S)/;
const onlyNumber = /^[A-Za-z]{0,2}-?\d{1,3}$|^\d[A-Fa-f]$/;
const lineHead = /^(?:(?:switch|lamp)\s+)?(?:column|col|c|strobe|row|r|return)\.?\s*\d{1,2}\b/i;

/** A cell's number and name; the number may be missing. */
export function splitCell(text: string): { number: string; name: string } {
  const flat = text.replace(/\s+/g, ' ').trim();
  const head = numbered.exec(flat)?.[0];
  if (head === undefined) return onlyNumber.test(flat) ? { number: flat, name: '' } : { number: '', name: flat };
  return { number: head.replace(/^(?:sw|no)\.?\s*/i, '').replace(/[\s.:)–-]+$/, ''), name: flat.slice(head.length) };
}

const sampledRows = 60;
const widest = 40;

/** The shape of a grid; null when the table is a list. */
export function gridOf(source: readonly string[][]): GridShape | null {
  if (source.length > 200) return null; // no matrix has so many lines
  const rows = joinPairs(source.map((cells, i) => ({ cells, row: i + 1 })));
  const width = Math.max(0, ...rows.map(({ cells }) => cells.length));
  if (width < 3 || width > widest) return null;
  const first = rows.findIndex(({ cells }) => isBody(cells));
  const counted = first === -1 ? countedHeads(rows) : -1;
  const named =
    counted !== -1
      ? counted
      : first === -1
        ? rows.findIndex(({ cells }) => lineHead.test(cells[0] ?? '') && cells.slice(1).some((c) => /[a-z]{2}/i.test(c)))
        : first;
  if (named === -1) return null;
  const byNumber = first !== -1;
  if (!byNumber && counted === -1 && !rows.slice(0, named).some(({ cells }) => cells.filter((c) => lineHead.test(c)).length >= 2))
    return null;
  const body = rows.slice(named, named + sampledRows);
  const headColumns = byNumber ? leading(body, width) : headsBeside(rows.slice(0, named), width);
  const inBody = body.flatMap(({ cells }) => cells.slice(headColumns).filter(Boolean));
  const share = inBody.filter((cell) => numbered.test(cell)).length / Math.max(1, inBody.length);
  if (width - headColumns < 2 || (byNumber && share < 0.5)) return null;
  return {
    ...heads(rows, named, headColumns, width),
    headColumns,
    headRows: (rows[named]?.row ?? 1) - 1,
    sure: byNumber ? Math.min(0.95, 0.5 + share / 2) : 0.8,
  };
}

interface Row {
  cells: readonly string[];
  row: number;
}

/** Half of its cells, and three at least (two in a narrow table), are a number and a name. */
function isBody(cells: readonly string[]): boolean {
  const full = cells.filter(Boolean);
  const fitting = full.filter((cell) => numbered.test(cell) && /[a-z]{2}/i.test(splitCell(cell).name)).length;
  return fitting >= Math.min(3, Math.max(2, full.length - 1)) && fitting * 2 >= full.length;
}

/** The first row of cells below a row of figures in order, when each of those rows begins with a figure in order too; -1: there is none. */
function countedHeads(rows: readonly Row[]): number {
  const inOrder = (cells: readonly string[]) =>
    cells.length > 1 && cells.every((cell, i) => /^\d{1,2}$/.test(cell) && (i === 0 || Number(cell) === Number(cells[i - 1]) + 1));
  const top = rows.findIndex(({ cells }) => inOrder(cells.slice(1)));
  const side = rows.slice(top + 1).filter(({ cells }) => cells.some(Boolean));
  const names = side.flatMap(({ cells }) => cells.slice(1).filter(Boolean));
  const isGrid =
    top !== -1 &&
    inOrder(side.map(({ cells }) => cells[0] ?? '')) &&
    names.filter((name) => /[a-z]{2}/i.test(name)).length > 0.6 * names.length;
  return isGrid ? top + 1 : -1;
}

/** Numbers in one row and their names in the next are one row. */
function joinPairs(rows: readonly Row[]): Row[] {
  const joined: Row[] = [];
  for (let i = 0; i < rows.length; i += 1) {
    const [one, two] = [rows[i], rows[i + 1]];
    if (!one) continue;
    const numbers = one.cells.slice(1).filter(Boolean);
    const pair =
      two !== undefined &&
      numbers.length >= 2 &&
      numbers.every((cell) => onlyNumber.test(cell)) &&
      !two.cells[0] &&
      two.cells.slice(1).some((cell) => /[a-z]{2}/i.test(cell)) &&
      !two.cells.some((cell) => numbered.test(cell) || onlyNumber.test(cell));
    if (pair && two) {
      const length = Math.max(one.cells.length, two.cells.length);
      joined.push({ row: one.row, cells: Array.from({ length }, (_, c) => [one.cells[c], two.cells[c]].filter(Boolean).join('\n')) });
      i += 1;
    } else joined.push(one);
  }
  return joined;
}

/** Columns in front whose cells are heads. */
function leading(body: readonly Row[], width: number): number {
  for (let c = 0; c < width; c += 1) {
    const cells = body.flatMap(({ cells }) => cells[c] || []);
    const fitting = cells.filter(
      (cell) =>
        numbered.test(cell) &&
        !lineHead.test(cell) &&
        /[a-z]{2}/i.test(splitCell(cell).name) &&
        !/^\s*\S+\s+[a-z]{2,3}[-/][a-z]{2,3}\s*$/i.test(cell),
    ).length;
    if (cells.length > 0 && fitting * 2 >= cells.length) return c;
  }
  return 1;
}

function headsBeside(top: readonly Row[], width: number): number {
  for (let c = 0; c < width; c += 1) if (top.some(({ cells }) => lineHead.test(cells[c] ?? ''))) return Math.max(1, c);
  return 1;
}

function heads(
  rows: readonly Row[],
  first: number,
  headColumns: number,
  width: number,
): Pick<GridShape, 'top' | 'side' | 'cells' | 'title'> {
  const above = rows.slice(0, first);
  const single = above.filter(({ cells }) => cells.filter(Boolean).length === 1);
  const headRows = above.filter((row) => !single.includes(row));
  const title = [...single.flatMap(({ cells }) => cells), ...headRows.flatMap(({ cells }) => cells.slice(0, headColumns))]
    .filter(Boolean)
    .join(' ');
  const top = Array.from({ length: width - headColumns }, (_, i) => {
    const cells = headRows.map((row) => row.cells[headColumns + i] ?? '').filter(Boolean);
    return { text: cells.join('\n'), row: headRows[0]?.row ?? 1, column: headColumns + i + 1 };
  });
  const side: GridShape['side'] = [];
  const cells: GridShape['cells'] = [];
  for (const { cells: row, row: number } of rows.slice(first)) {
    const head = row.slice(0, headColumns).filter(Boolean).join('\n');
    const body = row.slice(headColumns);
    const last = side.at(-1);
    if (!body.some(Boolean) && head !== '' && last && !lineHead.test(head)) {
      last.text = `${last.text}\n${head}`; // a head that runs over several rows
      continue;
    }
    if (!body.some(Boolean) && head === '') continue;
    side.push({ text: head, row: number, column: 1 });
    for (const [i, text] of body.entries()) {
      if (text) cells.push({ text, row: number, column: headColumns + i + 1, across: i, down: side.length - 1 });
    }
  }
  return { top, side, cells, title };
}
