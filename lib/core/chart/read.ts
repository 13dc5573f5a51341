/** Reads chart JSON at the boundary: what is wrong is said by path, in plain words, with a mend. */
import type * as z from 'zod';
import { error } from './finding';
import { type BoardDesign, boardDesign, type Machine, machine } from './schema';
import type { Finding } from './types';

export type Read<T> = { ok: true; value: T } | { ok: false; findings: Finding[] };

export const readMachine = (json: unknown): Read<Machine> => read(machine, json);
export const readDesign = (json: unknown): Read<BoardDesign> => read(boardDesign, json);

/** Any shape, read with zod, its issues as findings. */
export function read<T>(shape: z.ZodType<T>, json: unknown): Read<T> {
  const result = shape.safeParse(json);
  return result.success
    ? { ok: true, value: result.data }
    : { ok: false, findings: result.error.issues.map((issue) => findingOf(issue, json)) };
}

/** `["headers", 2, "pins"]` → `headers[2].pins`. */
export const pathOf = (path: readonly PropertyKey[]): string =>
  path.reduce<string>(
    (text, key) => (typeof key === 'number' ? `${text}[${key}]` : text === '' ? String(key) : `${text}.${String(key)}`),
    '',
  ) || '(whole)';

function findingOf(issue: z.core.$ZodIssue, json: unknown): Finding {
  const path = pathOf(issue.path);
  const value = valueAt(json, issue.path);
  const name = issue.path.length > 0 ? `“${path}”` : 'The file';
  const say = (message: string, mend: string) => error(`shape-${issue.code}`, path, message, mend);
  if (value === undefined && issue.path.length > 0) return say(`${name} is missing.`, `Add it: ${wantedOf(issue)}.`);
  switch (issue.code) {
    case 'invalid_type':
      return say(`${name} is ${inWords(value)}.`, `Give ${wantedOf(issue)}.`);
    case 'too_big':
    case 'too_small': {
      const large = issue.code === 'too_big';
      const limit = large ? issue.maximum : issue.minimum;
      const unit = issue.origin === 'string' ? ' characters' : issue.origin === 'array' ? ' entries' : '';
      return say(
        `${name} is too ${issue.origin === 'string' ? (large ? 'long' : 'short') : large ? 'large' : 'small'}.`,
        boundOf(large, limit, issue.inclusive ?? true, unit),
      );
    }
    case 'invalid_format':
      return say(`${name} is ${inWords(value)}: ${issue.message.replace(/\.$/, '')}.`, 'Correct it to that form.');
    default:
      return say(`${name} is ${inWords(value)}, which does not fit.`, `Give ${wantedOf(issue)}.`);
  }
}

const boundOf = (large: boolean, limit: number | bigint, inclusive: boolean, unit: string): string =>
  inclusive ? `Use ${large ? 'at most' : 'at least'} ${limit}${unit}.` : `Use ${large ? 'less' : 'more'} than ${limit}${unit}.`;

const typeWords: Record<string, string> = {
  string: 'text',
  number: 'a number',
  int: 'a whole number',
  boolean: 'true or false',
  array: 'a list',
  tuple: 'a list',
  object: 'an object',
};

/** What the shape wants there. */
function wantedOf(issue: z.core.$ZodIssue): string {
  switch (issue.code) {
    case 'invalid_type':
      return typeWords[issue.expected] ?? issue.expected;
    case 'invalid_value':
      return issue.values.length === 1 ? `“${String(issue.values[0])}”` : `one of ${issue.values.map(String).join(', ')}`;
    case 'invalid_union': {
      const each = issue.errors.flatMap((errors) => errors.slice(0, 1));
      const values = each.flatMap((e) => (e.code === 'invalid_value' ? e.values.map(String) : []));
      return values.length > 0 && values.length === each.length
        ? `one of ${values.join(', ')}`
        : [...new Set(each.map(wantedAt))].join(', or ');
    }
    default:
      return issue.message.charAt(0).toLowerCase() + issue.message.slice(1);
  }
}

const wantedAt = (issue: z.core.$ZodIssue): string =>
  issue.path.length > 0 ? `“${pathOf(issue.path)}” as ${wantedOf(issue)}` : wantedOf(issue);

function valueAt(json: unknown, path: readonly PropertyKey[]): unknown {
  return path.reduce<unknown>(
    (value, key) => (typeof value === 'object' && value !== null ? (value as Record<PropertyKey, unknown>)[key] : undefined),
    json,
  );
}

const longestShown = 40; // characters

function inWords(value: unknown): string {
  if (value === null) return 'empty (null)';
  if (Array.isArray(value)) return 'a list';
  if (typeof value === 'object') return 'an object';
  if (typeof value === 'string') return `“${value.length > longestShown ? `${value.slice(0, longestShown)}…` : value}”`;
  return value === undefined ? 'missing' : String(value);
}
