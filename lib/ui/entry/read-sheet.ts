/** A sheet as a chart: what can be read of it, and what is said about the rest. */
import { finish, type Steps } from '@/lib/core/chart/entry';
import { read } from '@/lib/core/chart/read';
import { type BoardDesign, boardDesign, type Machine, machine } from '@/lib/core/chart/schema';
import { readCell, readRow } from './read-row';
import { valueAt, withValue } from './records';
import { aroundOf } from './sheet';
import { aboutKey, fieldsOf, tablesOf } from './tables';
import type { Around, CellFinding, Rec, Sheet, SheetRow, TableSpec } from './types';

export interface ReadSheet {
  machine: Machine | null;
  design: BoardDesign;
  /** Rows of each table in the order of the chart's list. */
  rows: Readonly<Record<string, readonly number[]>>;
  /** What is not in the chart. */
  problems: CellFinding[];
}
const rowsAStep = 100;
const optional: readonly string[] = ['inline', 'inlinePins'];

export const readSheet = (sheet: Sheet): ReadSheet => finish(readSheetInSteps(sheet));

export function* readSheetInSteps(sheet: Sheet): Steps<ReadSheet> {
  const problems: CellFinding[] = [];
  const whole = readAbout(sheet, problems);
  const around = aroundNow(sheet, whole as { numbering?: Around['numbering'] });
  const lines = { ...around, design: yield* withLines(sheet, around) };
  const lists: Record<string, { records: Rec[]; rows: number[] }> = {};
  for (const table of tablesOf(sheet.kind))
    if (table.key !== aboutKey)
      lists[table.key] = yield* readTable(table, sheet.tables[table.key] ?? [], table.key === 'pins' ? lines : around, problems);
  const rows = Object.fromEntries(Object.entries(lists).map(([key, list]) => [key, list.rows]));
  const records = (key: string) => lists[key]?.records ?? [];
  if (sheet.machine) {
    // A list that a chart need not have stays away while it is empty.
    const had = (key: string) => !optional.includes(key) || key in whole || records(key).length > 0;
    const filled = Object.fromEntries(Object.keys(lists).flatMap((key) => (had(key) ? [[key, records(key)]] : [])));
    return { machine: { ...whole, ...filled } as unknown as Machine, design: sheet.design, rows, problems };
  }
  const pins = yield* pinsOf(sheet.design, records('pins'), records('headers'), lists.pins?.rows ?? [], problems);
  const design = {
    ...whole,
    nets: records('nets'),
    headers: pins.headers,
    boards: records('boards').length > 0 ? records('boards') : sheet.design.boards,
  };
  return { machine: null, design: design as unknown as BoardDesign, rows: { ...rows, ...pins.rows }, problems };
}

const designs = new WeakMap<readonly SheetRow[], { base: BoardDesign; design: BoardDesign }>();
/** The design with the lines that are written now, so that a pin can carry one that was typed a moment ago. */
function* withLines({ kind, design: base, tables }: Sheet, around: Around): Steps<BoardDesign> {
  const rows = tables.nets;
  if (kind === 'machine' || !rows) return base;
  const known = designs.get(rows);
  if (known?.base === base) return known.design;
  const spec = tablesOf(kind).find((t) => t.key === 'nets');
  const nets: BoardDesign['nets'] = spec ? [] : base.nets;
  for (const [i, row] of spec ? rows.entries() : []) {
    const { record } = readRow(spec as TableSpec, row, around);
    if (record) nets.push(record as BoardDesign['nets'][number]);
    if (i % rowsAStep === rowsAStep - 1) yield;
  }
  const design = { ...base, nets };
  designs.set(rows, { base, design });
  return design;
}

/** Numbers as they are written now, so that a load that was typed a moment ago is known. */
function aroundNow(sheet: Sheet, whole: { numbering?: Around['numbering'] }): Around {
  const written = (table: string) =>
    (sheet.tables[table] ?? []).flatMap((row) => (row.cells[1]?.trim() ? [row.cells[0]?.trim() ?? ''] : [])).filter(Boolean);
  if (!sheet.machine) return aroundOf(sheet);
  return {
    ...aroundOf(sheet),
    switches: new Set([...written('switches'), ...written('direct')]),
    loads: new Set(written('loads')),
    ...(whole.numbering && { numbering: whole.numbering }),
  };
}

function* readTable(
  table: TableSpec,
  rows: readonly SheetRow[],
  around: Around,
  problems: CellFinding[],
): Steps<{ records: Rec[]; rows: number[] }> {
  const kept: { record: Rec; id: number; index: number }[] = [];
  for (const [i, row] of rows.entries()) {
    const { record, problems: own } = readRow(table, row, around);
    for (const p of own)
      problems.push({ level: 'error', rule: 'not-kept', path: `${table.key}[${i}]`, table: table.key, row: row.id, unsaved: true, ...p });
    if (record) kept.push({ record, id: row.id, index: row.index ?? Number.POSITIVE_INFINITY });
    if (i % rowsAStep === rowsAStep - 1) yield;
  }
  // Rows keep the order of the chart, so that only what somebody changed differs; new ones follow.
  kept.sort((a, b) => (a.index === b.index ? 0 : a.index - b.index));
  const old = kept.filter((k) => Number.isFinite(k.index));
  if (table.names.includes('column') && old.every((k, i) => i === 0 || byPlace(old[i - 1]?.record, k.record) <= 0))
    kept.sort((a, b) => byPlace(a.record, b.record));
  return { records: kept.map((k) => k.record), rows: kept.map((k) => k.id) };
}
const byPlace = (a: Rec | undefined, b: Rec) => Number(a?.column) - Number(b.column) || Number(a?.row) - Number(b.row);

/** The fields of the chart itself, each by itself: one that does not fit leaves the value that was there. */
function readAbout(sheet: Sheet, problems: CellFinding[]): Rec {
  const start = (sheet.machine ?? sheet.design) as unknown as Rec;
  const empty = sheet.machine
    ? { switches: [], direct: [], lamps: [], loads: [], illumination: [], chains: [], asFound: [], keysAsFound: [] }
    : { nets: [], headers: [] };
  const around = aroundOf(sheet);
  let whole = start;
  for (const [i, field] of fieldsOf(sheet.kind).entries()) {
    const row = sheet.tables[aboutKey]?.[i];
    if (!row) continue;
    const say = (message: string, mend: string) =>
      problems.push({
        level: 'error',
        rule: 'not-kept',
        path: field.path,
        table: aboutKey,
        row: row.id,
        column: 1,
        unsaved: true,
        message,
        mend,
      });
    const cell = readCell(field, row.cells[1] ?? '', start, around);
    if ('message' in cell) say(cell.message, cell.mend);
    else if (cell.value !== valueAt(start, field.path)) {
      const next = withValue(whole, field.path, cell.value);
      const result = read<unknown>(sheet.machine ? machine : boardDesign, { ...next, ...empty });
      if (result.ok) whole = next;
      else for (const f of result.findings.slice(0, 1)) say(f.message, f.mend);
    }
  }
  return whole;
}

/** Pins into their headers; one whose header is not in the table is not in the chart. */
function* pinsOf(design: BoardDesign, pins: readonly Rec[], headers: readonly Rec[], ids: readonly number[], problems: CellFinding[]) {
  const before = new Map(design.headers.map((h) => [h.id, h.pins]));
  const byHeader = new Map<unknown, { pin: Rec; id: number }[]>(headers.map((h) => [h.id, []]));
  for (const [i, { header, ...pin }] of pins.entries()) {
    if (i % rowsAStep === rowsAStep - 1) yield;
    const list = byHeader.get(header);
    const id = ids[i] ?? 0;
    if (list) list.push({ pin, id });
    else
      problems.push({
        level: 'error',
        rule: 'not-kept',
        path: 'headers',
        table: 'pins',
        row: id,
        column: 0,
        unsaved: true,
        message: `There is no header ${String(header)}.`,
        mend: 'Correct its name, or enter the header first.',
      });
  }
  const rows: Record<string, number[]> = {};
  const filled: Rec[] = [];
  for (const [i, header] of headers.entries()) {
    if (i % rowsAStep === rowsAStep - 1) yield;
    const list = byHeader.get(header.id) ?? [];
    const there = before.get(String(header.id)) ?? [];
    if (there.every((p, j) => j === 0 || (there[j - 1]?.position ?? 0) <= p.position))
      list.sort((a, b) => Number(a.pin.position) - Number(b.pin.position));
    rows[`headers[${i}].pins`] = list.map(({ id }) => id);
    byHeader.delete(header.id);
    filled.push({ ...header, pins: list.map(({ pin }) => pin) });
  }
  return { headers: filled, rows };
}

/** The table and cell that a finding of the lint is about. */
export function cellOfPath(sheet: Sheet, path: string, rows: ReadSheet['rows']): { table: string; row: number | null; column: number } {
  const { kind } = sheet;
  const pin = /^(headers\[\d+\]\.pins)(?:\[(\d+)\])?\.?([\w.]*)/.exec(path);
  const [, list = '', index, field = ''] = pin ?? /^(\w+)(?:\[(\d+)\])?\.?([\w.]*)/.exec(path) ?? [];
  const key = pin ? 'pins' : list;
  const table = tablesOf(kind).find((t) => t.key === key);
  if (!table) {
    const fields = fieldsOf(kind);
    const exact = fields.findIndex((f) => f.path === path);
    const at = exact >= 0 ? exact : fields.findIndex((f) => f.path.split('.')[0] === list);
    return { table: aboutKey, row: sheet.tables[aboutKey]?.[at]?.id ?? null, column: 1 };
  }
  const column = table.columns.findIndex((c) => c.path === field || c.path === field.split('.')[0]);
  const row = index === undefined ? null : (rows[list]?.[Number(index)] ?? null);
  return { table: key, row, column: Math.max(column, 0) };
}
