/** A chart from its CSV files. */
import { error } from '../finding';
import { type Read, readDesign, readMachine } from '../read';
import type { Json } from '../rows';
import type { BoardDesign, Machine } from '../schema';
import type { Finding } from '../types';
import { chainsOfRows } from './chain-rows';
import { type Field, fromCell, place } from './codec';
import { delimited } from './delimited';
import { type CsvFile, turnsOf } from './export';
import { type FileKey, fileNames, files, machineLists, wirePaths } from './export-fields';
import { finish } from './steps';

type Row = { [key: string]: Json };

/** Reads files that `exportTables` wrote, columns and files in any order. All that is wrong is found by file, row and column. */
export function importTables(csvs: readonly CsvFile[]): Read<{ machine: Machine; design: BoardDesign }> {
  const findings: Finding[] = [];
  const known = new Map(Object.entries(fileNames).map(([key, name]) => [name, key as FileKey]));
  const rows = new Map<FileKey, Row[]>();
  for (const { name, csv } of csvs) {
    const key = known.get(name);
    if (key) rows.set(key, rowsOf(name, csv, files[key], findings));
    else
      findings.push(
        error(
          'unknown-file',
          name,
          `${name} is no file of a chart.`,
          `Use the names of the export: ${Object.values(fileNames).join(', ')}.`,
        ),
      );
  }
  for (const [key, name] of Object.entries(fileNames)) {
    if (!rows.has(key as FileKey))
      findings.push(error('file-missing', name, `${name} is missing.`, 'Add it; a table without rows has its headings only.'));
  }
  if (findings.length > 0) return { ok: false, findings };
  const of = (key: FileKey) => rows.get(key) ?? [];
  const chains = chainsOfRows(of('chains'));
  if ('wrong' in chains) {
    const message = 'This step has no place: the step before it, or its splice, is missing.';
    return {
      ok: false,
      findings: [error('step-out-of-place', cellName(fileNames.chains, chains.wrong + 2), message, 'Write the steps of a chain in order.')],
    };
  }
  const [one] = of('machine');
  const [board] = of('design');
  const lists = Object.fromEntries(machineLists.map((list) => [list, of(list)]));
  const machine = readMachine({
    ...withBase(one),
    ...lists,
    asFound: of('asFound').map((row) => ({ place: {}, ...row })),
    chains: chains.chains,
  });
  const headers = headersOf(of('headers'), of('pins'), findings);
  const design = readDesign({ ...board, boards: of('boards'), nets: of('nets'), headers });
  const wrong = [...findings, ...(machine.ok ? [] : machine.findings), ...(design.ok ? [] : design.findings)];
  return machine.ok && design.ok && wrong.length === 0
    ? { ok: true, value: { machine: machine.value, design: design.value } }
    : { ok: false, findings: wrong };
}

const cellName = (file: string, row: number, head?: string): string => `${file}, row ${row}${head === undefined ? '' : `, ${head}`}`;

function rowsOf(file: string, csv: string, fields: readonly Field[], findings: Finding[]): Row[] {
  const text = csv.startsWith('\ufeff') ? csv.slice(1) : csv;
  const [heads = [], ...body] = finish(delimited(text, ',')).rows;
  const columns = heads.map((head) => {
    const field = fields.find((f) => f.head === head.trim());
    if (!field && head.trim() !== '')
      findings.push(error('unknown-heading', cellName(file, 1), `“${head}” is no heading of ${file}.`, 'Use the headings of the export.'));
    return field;
  });
  return body.flatMap((cells, r): Row[] => {
    if (cells.every((cell) => cell === '')) return [];
    const row: Row = {};
    for (const [c, field] of columns.entries()) {
      const value = field && fromCell(cells[c] ?? '', field.type);
      if (!field || value === undefined) continue;
      if (value === null) {
        const wanted = {
          text: 'text',
          texts: 'text',
          number: 'a number',
          numbers: 'numbers with a space between, or none',
          'yes-no': 'yes or no',
        }[field.type];
        findings.push(error('wrong-cell', cellName(file, r + 2, field.head), `“${cells[c]}” does not fit.`, `Write ${wanted}.`));
      } else place(row, field.path, value);
    }
    return [row];
  });
}

/** A base of which no digit is given is still one. */
function withBase(machine: Row | undefined): Row | undefined {
  const numbering = machine?.numbering;
  if (!machine || typeof numbering !== 'object' || numbering === null || Array.isArray(numbering)) return machine;
  const { emptyBase, ...rest } = numbering;
  return { ...machine, numbering: { ...rest, ...(emptyBase === true && { base: {} }) } };
}

/** Pins into their headers: rows of one pin stand together, the first of them with wire 1 or none. */
function headersOf(headers: readonly Row[], pins: readonly Row[], findings: Finding[]): Row[] {
  const names = turnsOf(headers.map((h) => String(h.id)));
  const lists = new Map<string, Row[]>(names.map((name) => [name, []]));
  for (const [r, { header, wire, position, net, ...rest }] of pins.entries()) {
    const list = lists.get(String(header));
    if (!list) {
      findings.push(
        error(
          'unknown-header',
          cellName(fileNames.pins, r + 2, 'Header'),
          `${String(header)} is not in ${fileNames.headers}.`,
          'Correct the header, or add it there.',
        ),
      );
      continue;
    }
    const own = Object.fromEntries(Object.entries(rest).filter(([key]) => wirePaths.includes(key)));
    const last = list.at(-1);
    if (typeof wire === 'number' && wire > 1 && last && Array.isArray(last.wires)) last.wires.push(own);
    else list.push({ position: position ?? null, net: net ?? null, ...(wire !== undefined && { wires: [own] }) });
  }
  return headers.map((header, i) => ({ ...header, pins: lists.get(names[i] ?? '') ?? [] }));
}
