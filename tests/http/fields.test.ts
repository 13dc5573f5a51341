import { expect, test } from 'vitest';
import * as z from 'zod';
import { fieldErrors } from '@/lib/http/fields';

const shape = z.object({
  name: z.string().min(2),
  note: z.string().max(3).optional(),
  limit: z.coerce.number().int().max(100).default(20),
  state: z.enum(['open', 'mended']),
  on: z.iso.date(),
  link: z.url().optional(),
  code: z
    .string()
    .regex(/^[A-Z]+$/, 'use capital letters')
    .optional(),
  pins: z.array(z.strictObject({ pin: z.number() })).min(1),
  step: z.number().multipleOf(5),
  either: z.union([z.string(), z.number()]),
});
const errorsOf = (given: unknown) => {
  const read = shape.safeParse(given);
  return read.success ? [] : fieldErrors(read.error, given, 'body');
};
const good = { name: 'Wen', state: 'open', on: '2025-11-08', pins: [{ pin: 1 }], step: 10, either: 1 };

test('nothing is wrong with what is right', () => {
  expect(errorsOf(good)).toEqual([]);
});

test('what is missing is said to be missing, not to be of a wrong sort', () => {
  expect(errorsOf({ pins: [{}] })).toEqual(
    ['name', 'state', 'on', 'pins[0].pin', 'step', 'either'].map((field) => ({ field, message: 'is missing', mend: `Add ${field}.` })),
  );
});

test.each([
  [{ name: 'W' }, 'name', 'Make name at least 2 characters.'],
  [{ name: null }, 'name', 'Give name as a string.'],
  [{ note: 'long' }, 'note', 'Keep note to at most 3 characters.'],
  [{ limit: 101 }, 'limit', 'Keep limit to at most 100.'],
  [{ limit: 'many' }, 'limit', 'Give limit as a number.'],
  [{ limit: '1.5' }, 'limit', 'Give limit as a whole number.'],
  [{ state: 'shut' }, 'state', 'Use one of: open, mended.'],
  [{ on: '8 November' }, 'on', 'Write on as a day, such as 2025-11-08.'],
  [{ on: '2025-02-30' }, 'on', 'Write on as a day, such as 2025-11-08.'],
  [{ link: 'no' }, 'link', 'Write link as an address that begins with https://.'],
  [{ code: 'x' }, 'code', 'Write code as the description of this endpoint says.'],
  [{ pins: [] }, 'pins', 'Make pins at least 1 entry.'],
  [{ pins: [{ pin: 1, colour: 2 }] }, 'pins[0]', 'Remove colour.'],
  [{ pins: [{ pin: '1' }] }, 'pins[0].pin', 'Give pins[0].pin as a number.'],
  [{ step: 3 }, 'step', 'Use a multiple of 5.'],
  [{ either: true }, 'either', 'Give either as the description of this endpoint says.'],
])('%j', (wrong, field, mend) => {
  const errors = errorsOf({ ...good, ...wrong });
  expect(errors.map((e) => ({ field: e.field, mend: e.mend }))).toEqual([{ field, mend }]);
  expect(errors[0]?.message).not.toBe('');
});

test('a message of the shape’s own is kept', () => {
  expect(errorsOf({ ...good, code: 'x' })[0]?.message).toBe('use capital letters');
});

test('a fault of the whole is named as the caller names it', () => {
  expect(errorsOf('text')).toEqual([{ field: 'body', message: expect.any(String), mend: 'Give body as an object.' }]);
});
