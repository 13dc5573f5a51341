/** A widget as a fenced block: info string `widget <kind> <id>`, body one `key: JSON value` a line, keys sorted. */
import type { WidgetState } from '@/lib/widgets/definition';
import { isId, isKind } from '../ids';

const plainKey = /^[\p{L}\p{N}._/+-]+$/u; // anything else is written as a JSON string

/** The body. Values that JSON cannot say (undefined) are left out. */
export function writeBody(state: WidgetState): string {
  return Object.keys(state)
    .filter((key) => state[key] !== undefined)
    .sort()
    .map((key) => `${plainKey.test(key) ? key : JSON.stringify(key)}: ${JSON.stringify(state[key])}`)
    .join('\n');
}

export type BodyRead = { ok: true; state: WidgetState } | { ok: false; line: number; message: string; mend: string };

/** Reads a body; `line` counts from 1 within it. Blank lines are allowed. */
export function readBody(body: string): BodyRead {
  const state: Record<string, unknown> = {};
  const lines = body.split('\n');
  for (const [index, text] of lines.entries()) {
    if (text.trim() === '') continue;
    const found = /^\s*("(?:[^"\\]|\\.)*"|[^:"]*):(.*)$/.exec(text);
    const key = found && readKey(found[1] ?? '');
    if (!found || !key)
      return { ok: false, line: index + 1, message: `“${shorten(text)}” is not a key and a value`, mend: 'write key: value' };
    if (Object.hasOwn(state, key)) return { ok: false, line: index + 1, message: `${key} stands twice`, mend: 'keep one of the two lines' };
    try {
      state[key] = JSON.parse(found[2] ?? '');
    } catch {
      return { ok: false, line: index + 1, message: `the value of ${key} is not JSON`, mend: 'put words in double quotes' };
    }
  }
  return { ok: true, state };
}

function readKey(written: string): string | null {
  if (!written.startsWith('"')) return written.trim() === '__proto__' ? null : written.trim() || null;
  try {
    const key: unknown = JSON.parse(written);
    return typeof key === 'string' && key !== '' && key !== '__proto__' ? key : null;
  } catch {
    return null;
  }
}

const shorten = (text: string) => (text.trim().length > 40 ? `${text.trim().slice(0, 40)}…` : text.trim());

/** Kind and id of an info string's words after `widget`; the id may be missing. Null when this is no widget. */
export function readInfo(meta: string): { kind: string; id: string | null } | null {
  const [kind, id, ...rest] = meta.trim().split(/\s+/);
  if (!isKind(kind) || rest.length > 0 || (id !== undefined && !isId(id))) return null;
  return { kind, id: id ?? null };
}
