/** Schemas and readers of flat widget state: fixed keys and families of keys such as `tick.<step>`. */
import * as z from 'zod/mini'; // these schemas run in the browser, where the full library would weigh 20 kB more
import type { Tick, WidgetState } from '@/lib/widgets/definition';

export const words = z.string({ error: 'write words' });
export const yes = z.boolean({ error: 'write true or false' });
export const count = z.number({ error: 'write a number' }).check(z.minimum(0, 'write a number of 0 or more'));
/** What one writer counted under `<key>.<writer>`; below 0 when it took back more than it counted itself. */
export const ownCount = z.int('write a whole number').check(z.minimum(-99_999, 'too few'), z.maximum(99_999, 'too many'));
export const tick = z.object({ by: words, at: words }, { error: 'a tick is {"by": name, "at": time}' });

/** Every key may be absent and unknown keys are kept; each value of the wrong type is refused under its key. */
export function stateSchema(
  fixed: Record<string, z.ZodMiniType>,
  families: Record<string, z.ZodMiniType> = {},
): z.ZodMiniType<Record<string, unknown>> {
  const typeOf = (key: string) => (Object.hasOwn(fixed, key) ? fixed[key] : families[key.slice(0, Math.max(0, key.indexOf('.')))]);
  return z.record(z.string(), z.unknown(), { error: 'a state is keys and values' }).check(({ value: state, issues }) => {
    for (const [key, value] of Object.entries(state)) {
      const read = typeOf(key)?.safeParse(value);
      if (read && !read.success)
        issues.push({ code: 'custom', path: [key], message: read.error.issues[0]?.message ?? 'not understood', input: value });
    }
  });
}

/** What a schema refused, in words: "minutes: write a number". */
export const refusal = (error: z.core.$ZodError): string =>
  error.issues.map((issue) => `${issue.path.join('.')}: ${issue.message}`).join('; ');

/** Entries of a family without their prefix, sorted by name as people count: 2 before 10. */
export function family<T>(state: WidgetState, name: string): [string, T][] {
  const prefix = `${name}.`;
  return Object.entries(state)
    .filter(([key]) => key.startsWith(prefix) && key.length > prefix.length)
    .map(([key, value]): [string, T] => [key.slice(prefix.length), value as T])
    .sort(([a], [b]) => a.localeCompare(b, 'en', { numeric: true }));
}

export const ticks = (state: WidgetState, name: string): Record<string, Tick> => Object.fromEntries(family<Tick>(state, name));

/** What all writers counted together under `<key>.<writer>`; never below 0. */
export const counted = (state: WidgetState, key: string): number =>
  Math.max(
    0,
    family<unknown>(state, key).reduce((sum, [, own]) => sum + (typeof own === 'number' ? own : 0), 0),
  );

/** A value of words; empty when absent. */
export const text = (state: WidgetState, key: string): string => (typeof state[key] === 'string' ? state[key] : '');
