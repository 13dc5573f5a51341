/** Which tables a sheet has, the one of single fields with them. */
import * as z from 'zod';
import { text } from './cell-types';
import { designFields, designTables } from './design-tables';
import { machineFields, machineTables } from './machine-tables';
import type { ColumnSpec, Sheet, TableSpec } from './types';

export const aboutKey = 'about';
const about = (title: string): TableSpec => ({
  key: aboutKey,
  title,
  about: 'One field a row.',
  shape: z.unknown(),
  names: [],
  columns: [
    { path: 'field', head: 'Field', type: text, width: 'wide' },
    { path: 'value', head: 'Value', type: text, width: 'wide' },
  ],
});
const tables = { machine: [...machineTables, about('The machine')], design: [...designTables, about('The design')] };

export const tablesOf = (kind: Sheet['kind']): readonly TableSpec[] => tables[kind];
export const fieldsOf = (kind: Sheet['kind']): readonly ColumnSpec[] => (kind === 'machine' ? machineFields : designFields);
export const tableOf = (kind: Sheet['kind'], key: string): TableSpec => {
  const found = tables[kind].find((t) => t.key === key);
  if (!found) throw new Error(`a ${kind} has no table ${key}`);
  return found;
};
/** A column that says what the row is; nothing can be written there. */
export const isFixed = (table: TableSpec, column: number) => table.key === aboutKey && column === 0;
/** Rows can be added and taken out. */
export const isOpen = (table: TableSpec) => table.key !== aboutKey;
