/** Values of a record by path; a dot goes into an object. */
import type { Rec } from './types';

export const valueAt = (record: Rec | undefined, path: string): unknown =>
  path.includes('.') ? valueWithin(record, path) : record?.[path];
const valueWithin = (record: Rec | undefined, path: string): unknown =>
  path.split('.').reduce<unknown>((at, key) => (typeof at === 'object' && at !== null ? (at as Rec)[key] : undefined), record);

/** The record with the value there; undefined takes the field out, and an object that it leaves empty. */
export function withValue(record: Rec, path: string, value: unknown): Record<string, unknown> {
  const [key = '', ...rest] = path.split('.');
  const inner = rest.length === 0 ? value : withValue((record[key] ?? {}) as Rec, rest.join('.'), value);
  const gone = inner === undefined || (rest.length > 0 && Object.keys(inner as Rec).length === 0 && valueAt(record, key) === undefined);
  if (!gone) return { ...record, [key]: inner };
  const { [key]: _, ...others } = record;
  return others;
}
