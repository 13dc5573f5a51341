/** A chart as CSV files, one a table. What is exported and imported again is the same chart, field by field. */
import { plainTree } from '../../differences';
import { type Json, jsonOf } from '../../rows';
import type { BoardDesign, Machine } from '../../schema';
import { rowsOfChains } from './chain-rows';
import { cellOf, csvOf, pick } from './codec';
import { type FileKey, fileNames, files, machineLists, optionalLists } from './export-fields';
import { inlineRows } from './inline-rows';

export interface CsvFile {
  name: string;
  csv: string;
}
type Row = { [key: string]: Json };

/** What a file or a set of files holds: a board design, and a machine on it or none. */
export interface ChartFile {
  design: BoardDesign;
  machine?: Machine;
}

/** Every table of a board design, and of a machine where one is given; empty ones too, so that they can be filled in a spreadsheet. */
export function exportTables({ design, machine }: ChartFile): CsvFile[] {
  const d = jsonOf(plainTree(design)) as Row;
  const rows: Partial<Record<FileKey, Row[]>> = {
    ...(machine && machineRows(machine)),
    design: [d],
    boards: d.boards as Row[],
    nets: d.nets as Row[],
    headers: d.headers as Row[],
    pins: pinRows(d.headers as Row[]),
    ...listsOf(d, optionalLists.design),
  };
  return (Object.keys(fileNames) as FileKey[]).flatMap((key) => {
    const own = rows[key];
    if (!own) return [];
    const fields = files[key];
    const body = own.map((row) => fields.map(({ path, type }) => cellOf(pick(row, path), type)));
    return [{ name: fileNames[key], csv: csvOf([fields.map((field) => field.head), ...body]) }];
  });
}

function machineRows(machine: Machine): Partial<Record<FileKey, Row[]>> {
  const m = jsonOf(plainTree(machine)) as Row;
  const base = machine.numbering.base;
  return {
    machine: [base && Object.values(base).every((digit) => digit === undefined) ? withoutDigits(m) : m],
    ...listsOf(m, [...machineLists, ...optionalLists.machine]),
    chains: rowsOfChains(machine.chains),
    ...(machine.inlinePins && { inlinePins: inlineRows(m.inlinePins as Row[]) }),
  };
}

const listsOf = (chart: Row, lists: readonly FileKey[]) =>
  Object.fromEntries(lists.map((list) => [list, chart[list] as Row[] | undefined]));

const withoutDigits = (machine: Row): Row => ({ ...machine, numbering: { ...(machine.numbering as Row), emptyBase: true } });

/** A header that stands in the design twice is told from the first by its turn: `A3J4 (2)`. */
export function turnsOf(ids: readonly string[]): string[] {
  const seen = new Map<string, number>();
  return ids.map((id) => {
    const turn = (seen.get(id) ?? 0) + 1;
    seen.set(id, turn);
    return turn === 1 ? id : `${id} (${turn})`;
  });
}

function pinRows(headers: readonly Row[]): Row[] {
  const names = turnsOf(headers.map((h) => String(h.id)));
  return headers.flatMap((header, i) =>
    (header.pins as Row[]).flatMap(({ position, net, wires }): Row[] => {
      const own = { header: names[i] ?? '', position: position ?? null, net: net ?? null };
      return wires ? (wires as Row[]).map((wire, w) => ({ ...own, wire: w + 1, ...wire })) : [own];
    }),
  );
}
