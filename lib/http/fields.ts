/** What zod refused, field by field, in plain words with a mend. */
import type * as z from 'zod';
import { pathOf } from '@/lib/core/chart/read';
import type { FieldError } from './problem';

/** `whole` names what was read, for faults that are in no single field: `body`, `query`. `given` is what was read. */
export const fieldErrors = (error: z.core.$ZodError, given: unknown, whole: string): FieldError[] =>
  error.issues.map((issue) => {
    const field = issue.path.length ? pathOf(issue.path) : whole;
    if (issue.path.length && valueAt(given, issue.path) === undefined) return { field, message: 'is missing', mend: `Add ${field}.` };
    return { field, message: issue.message, mend: mendOf(issue, field) };
  });

const valueAt = (given: unknown, path: readonly PropertyKey[]): unknown =>
  path.reduce<unknown>((at, key) => (typeof at === 'object' && at !== null ? Reflect.get(at, key) : undefined), given);

function mendOf(issue: z.core.$ZodIssue, field: string): string {
  switch (issue.code) {
    case 'invalid_type':
      return `Give ${field} as ${kinds[issue.expected] ?? issue.expected}.`;
    case 'invalid_value':
      return `Use one of: ${issue.values.map(String).join(', ')}.`;
    case 'too_big':
      return `Keep ${field} to at most ${amount(issue.maximum, issue.origin)}.`;
    case 'too_small':
      return `Make ${field} at least ${amount(issue.minimum, issue.origin)}.`;
    case 'not_multiple_of':
      return `Use a multiple of ${issue.divisor}.`;
    case 'unrecognized_keys':
      return `Remove ${issue.keys.join(', ')}.`;
    case 'invalid_format':
      return `Write ${field} ${formats[issue.format] ?? 'as the description of this endpoint says'}.`;
    default:
      return `Give ${field} as the description of this endpoint says.`;
  }
}

function amount(count: number | bigint, origin: string): string {
  const [one, many] = measures[origin] ?? [];
  return one && many ? `${count} ${Number(count) === 1 ? one : many}` : String(count);
}

const measures: Record<string, [one: string, many: string]> = { string: ['character', 'characters'], array: ['entry', 'entries'] };
const kinds: Record<string, string> = {
  string: 'a string',
  number: 'a number',
  int: 'a whole number',
  boolean: 'true or false',
  array: 'a list',
  object: 'an object',
  record: 'an object',
};
const formats: Record<string, string> = {
  date: 'as a day, such as 2025-11-08',
  datetime: 'as a time, such as 2025-11-08T14:30:00Z',
  email: 'as an e-mail address, such as ines@club.example',
  url: 'as an address that begins with https://',
};
