/** A chart from its CSV files. */
import { error } from '../../finding';
import { type Read, readDesign, readMachine } from '../../read';
import type { Json } from '../../rows';
import type { Machine } from '../../schema';
import type { Finding } from '../../types';
import { finish } from '../steps';
import { delimited } from '../table/delimited';
import { delimiterOf } from '../table/read-table';
import { chainsOfRows } from './chain-rows';
import { type Field, fromCell, place } from './codec';
import { type ChartFile, type CsvFile, exportTables, turnsOf } from './export';
import { designFiles, type FileKey, fileNames, files, isOptional, machineLists, optionalLists, wirePaths } from './export-fields';
import { inlinePinsOf } from './inline-rows';

type Row = { [key: string]: Json };

/**
 * Reads files that `exportTables` wrote, columns and files in any order, saved again by a spreadsheet or not. A file that is missing is
 * taken from `base`; without one it is found. All that is wrong is found by file, row and column.
 */
export function importTables(csvs: readonly CsvFile[], base?: ChartFile): Read<ChartFile> {
  const findings: Finding[] = [];
  const rows = new Map<FileKey, Row[]>();
  for (const { name, csv } of csvs) {
    const key = keyOfFile(name);
    if (key) rows.set(key, rowsOf(fileNames[key], csv, files[key], findings));
    else {
      const all = Object.values(fileNames).join(', ');
      findings.push(error('unknown-file', name, `${name} is no file of a chart.`, `Use the names of the export: ${all}.`));
    }
  }
  const known = base ? new Map(exportTables(base).map(({ name, csv }) => [keyOfFile(name), csv] as const)) : null;
  const wanted = keys.filter((key) => designFiles.has(key) || base?.machine || keys.some((k) => !designFiles.has(k) && rows.has(k)));
  for (const key of wanted) {
    if (rows.has(key)) continue;
    const csv = known?.get(key);
    const name = fileNames[key];
    if (csv !== undefined) rows.set(key, rowsOf(name, csv, files[key], findings));
    else if (!isOptional(key))
      findings.push(error('file-missing', name, `${name} is missing.`, 'Add it; a table without rows has its headings only.'));
  }
  if (findings.length > 0) return { ok: false, findings };
  const of = (key: FileKey) => rows.get(key) ?? [];
  const headers = headersOf(of('headers'), of('pins'), findings);
  const given = (lists: readonly FileKey[]) => Object.fromEntries(lists.flatMap((list) => (rows.has(list) ? [[list, of(list)]] : [])));
  const design = readDesign({
    ...only('design', of('design'), findings),
    boards: of('boards'),
    nets: of('nets'),
    headers,
    ...given(optionalLists.design),
  });
  const inlinePins = rows.has('inlinePins') ? inlineOf(of('inlinePins'), findings) : {};
  const own = rows.has('machine') ? machineOf(of, { ...given(optionalLists.machine), ...inlinePins }, findings) : null;
  const all = [...findings, ...(design.ok ? [] : inFiles(design.findings)), ...(!own || own.ok ? [] : inFiles(own.findings))];
  return design.ok && (own === null || own.ok) && all.length === 0
    ? { ok: true, value: { design: design.value, ...(own && { machine: own.value }) } }
    : { ok: false, findings: all };
}

const keys = Object.keys(fileNames) as FileKey[];

/** A browser that saves a file twice writes `switches (1).csv`. */
function keyOfFile(name: string): FileKey | undefined {
  const plain = name
    .toLowerCase()
    .replace(/^.*[\\/]/, '')
    .replace(/\s*\(\d+\)(?=\.csv$)/, '');
  return keys.find((key) => fileNames[key] === plain);
}

function machineOf(of: (key: FileKey) => Row[], lists: { [list: string]: Row[] }, findings: Finding[]): Read<Machine> {
  const { chains, wrong } = chainsOfRows(of('chains'));
  for (const row of wrong) {
    const message = 'This step has no place: the step before it, or its splice, is missing.';
    findings.push(error('step-out-of-place', cellName(fileNames.chains, row + 2), message, 'Write the steps of a chain in order.'));
  }
  return readMachine({
    ...withBase(only('machine', of('machine'), findings)),
    ...Object.fromEntries(machineLists.map((list) => [list, of(list)])),
    asFound: of('asFound').map((row) => ({ place: {}, ...row })),
    chains: wrong.length > 0 ? [] : chains,
    ...lists,
  });
}

/** The positions of in-line connectors, where there is a file of them. */
function inlineOf(rows: readonly Row[], findings: Finding[]): { [list: string]: Row[] } {
  const { pins, wrong } = inlinePinsOf(rows);
  for (const row of wrong) {
    const message = `“${String(rows[row]?.half)}” is no half of an in-line connector.`;
    findings.push(error('wrong-cell', cellName(fileNames.inlinePins, row + 2, 'Half'), message, 'Write board or far.'));
  }
  return { inlinePins: pins };
}

/** The one row of a file that has one. */
function only(key: 'machine' | 'design', rows: readonly Row[], findings: Finding[]): Row {
  if (rows.length !== 1) {
    const message = `${fileNames[key]} has ${rows.length} rows below its headings.`;
    findings.push(error('not-one-row', cellName(fileNames[key], 2), message, 'Keep one row.'));
  }
  return rows[0] ?? {};
}

/** Findings of the schema by file, row and heading: `switches[3].name` is row 5 of switches.csv. */
function inFiles(findings: readonly Finding[]): Finding[] {
  return findings.map((finding) => {
    const [, list, index, path] = /^(\w+)\[(\d+)\](?:\.(.+))?$/.exec(finding.path) ?? [];
    const key = keys.find((k) => k === list);
    if (!key || key === 'chains' || key === 'inlinePins' || path?.startsWith('pins[')) return finding;
    const head = files[key].find((field) => field.path === path)?.head;
    return { ...finding, path: cellName(fileNames[key], Number(index) + 2, head) };
  });
}

const cellName = (file: string, row: number, head?: string): string => `${file}, row ${row}${head === undefined ? '' : `, ${head}`}`;

function rowsOf(file: string, csv: string, fields: readonly Field[], findings: Finding[]): Row[] {
  const text = csv.startsWith('\ufeff') ? csv.slice(1) : csv;
  const [heads = [], ...body] = finish(delimited(text, delimiterOf(text.slice(0, text.search(/[\r\n]|$/))))).rows;
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
function withBase(machine: Row): Row {
  const { numbering } = machine;
  if (typeof numbering !== 'object' || numbering === null || Array.isArray(numbering)) return machine;
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
