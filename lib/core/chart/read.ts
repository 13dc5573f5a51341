/** Reads chart JSON at the boundary: what is wrong is said by path, in plain words, with a mend. */
import type { z } from 'zod';
import { type BoardDesign, boardDesign, type Machine, machine } from './schema';
import type { Finding } from './types';

export type Read<T> = { ok: true; value: T } | { ok: false; findings: Finding[] };

export const readMachine = (json: unknown): Read<Machine> => read(machine, json);
export const readDesign = (json: unknown): Read<BoardDesign> => read(boardDesign, json);

/** Any shape, read with zod, its issues as findings. */
export function read<T>(shape: z.ZodType<T>, json: unknown): Read<T> {
  const result = shape.safeParse(json);
  if (result.success) return { ok: true, value: result.data };
  return {
    ok: false,
    findings: result.error.issues.map((issue) => ({
      level: 'error',
      rule: `shape-${issue.code}`,
      path: pathOf(issue.path),
      message: issue.message,
      mend: mendOf(issue),
    })),
  };
}

/** `["headers", 2, "pins"]` → `headers[2].pins`. */
export const pathOf = (path: readonly PropertyKey[]) =>
  path.reduce<string>(
    (text, key) => (typeof key === 'number' ? `${text}[${key}]` : text === '' ? String(key) : `${text}.${String(key)}`),
    '',
  ) || '(whole)';

function mendOf(issue: z.core.$ZodIssue): string {
  switch (issue.code) {
    case 'invalid_type':
      return `Give ${issue.path.length ? pathOf(issue.path) : 'the file'} as ${issue.expected}.`;
    case 'invalid_value':
      return `Use one of: ${issue.values.map(String).join(', ')}.`;
    case 'too_big':
      return `Keep it at ${String(issue.maximum)} or less.`;
    case 'too_small':
      return `Give ${String(issue.minimum)} or more.`;
    case 'unrecognized_keys':
      return `Remove ${issue.keys.join(', ')}.`;
    default:
      return 'Correct it as the message says.';
  }
}
