/** Joins what a table says with what the chart has: what was not there is filled, what differs is reported. */
import type * as z from 'zod';
import { read } from '../../read';
import type { At } from '../read/reading';
import type { TableFinding } from '../types';

export type Conflicts = 'keep' | 'replace';

export interface Joining {
  conflicts: Conflicts;
  findings: TableFinding[];
}

export const report = (to: Joining, level: TableFinding['level'], rule: string, at: At, message: string, mend: string): void => {
  to.findings.push({ level, rule, row: at.row, column: at.column, message, mend });
};

const words = (value: unknown): string => (typeof value === 'string' || typeof value === 'number' ? `“${value}”` : JSON.stringify(value));
const plain = (value: unknown): string =>
  typeof value === 'string' ? value.replace(/\s+/g, ' ').trim().toLowerCase() : JSON.stringify(value);

/** `there` with the fields added. A value that is only the default of its field gives way. Null when nothing changed. */
export function joined<T extends object>(
  to: Joining,
  there: T,
  fields: Partial<T>,
  { at, label, defaults = {} }: { at: At; label: string; defaults?: Partial<T> },
): T | null {
  let result: T | null = null;
  for (const [key, value] of Object.entries(fields) as [keyof T & string, T[keyof T]][]) {
    if (value === undefined) continue;
    const before = there[key];
    if (before !== undefined && plain(before) === plain(value)) continue;
    const free = before === undefined || plain(before) === plain(defaults[key]);
    if (!free) {
      const kept = to.conflicts === 'keep';
      const message = `${label}: the chart has ${key} ${words(before)}, the table ${words(value)}.`;
      report(
        to,
        'warning',
        'differs',
        at,
        message,
        kept ? 'The chart was kept. Correct one, or choose to replace.' : 'The table was taken. Look whether that is right.',
      );
      if (kept) continue;
    }
    result = { ...(result ?? there), [key]: value };
  }
  return result;
}

/** The row as the schema has it; what does not fit is reported by field. */
export function valid<T>(to: Joining, shape: z.ZodType<T>, row: unknown, at: At, label: string): T | null {
  const result = read(shape, row);
  if (result.ok) return result.value;
  for (const finding of result.findings) report(to, 'error', 'does-not-fit', at, `${label}: ${finding.message}`, finding.mend);
  return null;
}

/** A list whose rows are found by key, changed in place; new ones go to the end. */
export class Keyed<T> {
  readonly rows: T[];
  private readonly at = new Map<string, number[]>();
  private readonly keyOf: (row: T) => string;

  constructor(rows: readonly T[], keyOf: (row: T) => string) {
    this.rows = [...rows];
    this.keyOf = keyOf;
    for (const [i, row] of rows.entries()) this.at.set(keyOf(row), [...(this.at.get(keyOf(row)) ?? []), i]);
  }
  all(key: string): { row: T; index: number }[] {
    return (this.at.get(key) ?? []).flatMap((index) => {
      const row = this.rows[index];
      return row === undefined ? [] : [{ row, index }];
    });
  }
  set(index: number, row: T): void {
    this.rows[index] = row;
  }
  add(row: T): void {
    this.at.set(this.keyOf(row), [...(this.at.get(this.keyOf(row)) ?? []), this.rows.length]);
    this.rows.push(row);
  }
}
