'use server';
import * as z from 'zod';
import { loadPage } from '@/app/(club)/pages/[id]/load';
import { requireRight } from '@/app/member';
import { tally } from '@/lib/core/parts';
import { jobSteps, jobWishes } from '@/lib/core/parts/job-wishes';
import type { Wish } from '@/lib/core/parts/ledger';
import type { Part } from '@/lib/core/parts/schema';
import { needsOf } from '@/lib/notebook/needs';
import { getPage } from '@/lib/store/pages';
import { getCatalogue } from '@/lib/store/parts';
import { setLow, takeBack, type Written, writeEntry, writeForJob } from '@/lib/store/stock';
import type { FormState } from '@/lib/ui/forms';
import { readForm, refused, refusedField } from './read';

const pieces = (name: string, least = 1) =>
  z.coerce
    .number(`Write ${name} as a number`)
    .int('Write a whole number')
    .min(least, least === 0 ? 'Fewer than none can’t be' : 'Write at least 1')
    .max(1_000_000, 'A million is the most for one entry');
const common = { part: z.string().max(40), seen: z.coerce.number().int().min(0), token: z.string().min(8).max(40) };
const optional = (most: number) => z.string().trim().max(most, `Keep it under ${most} characters`).default('');

const partOf = async (id: string): Promise<Part | undefined> => (await getCatalogue()).catalogue.parts.find((p) => p.id === id);
const gone: FormState = { message: 'This part is no longer in the catalogue. Nothing was written.' };
const newsWords = (written: Extract<Written, { ok: true }>) => (written.news ? ` ${written.news} meanwhile.` : '');

export async function takeAction(_: FormState, data: FormData): Promise<FormState> {
  const member = await requireRight('/parts', 'write', 'stock');
  const form = readForm(
    data,
    z.object({ ...common, pieces: pieces('how many'), page: z.string().max(40).default(''), reason: optional(200) }),
  );
  if (!form.ok) return form.state;
  const { pieces: count, page, ...rest } = form.value;
  const part = await partOf(rest.part);
  if (!part) return gone;
  if (page && !(await getPage(page))) return refusedField(data, 'page', 'That page is gone; choose another, or none');
  const written = await writeEntry({ kind: 'used', pieces: count }, { ...rest, page: page || null, member: member.id });
  if (!written.ok) return refused(data, written.message);
  return { done: `${count} taken. ${written.after.onHand} left.${newsWords(written)}` };
}

export async function receiveAction(_: FormState, data: FormData): Promise<FormState> {
  const member = await requireRight('/parts', 'write', 'stock');
  const form = readForm(
    data,
    z.object({
      ...common,
      packs: pieces('the packs'),
      pack: pieces('the pieces in a pack'),
      supplier: optional(80),
      price: z
        .string()
        .trim()
        .regex(/^(\d{1,6}([.,]\d{1,2})?)?$/, 'Write the price of one pack such as 4.20, or leave it empty')
        .default(''),
    }),
  );
  if (!form.ok) return form.state;
  const { packs, pack, supplier, price, ...rest } = form.value;
  if (packs * pack > 1_000_000) return refusedField(data, 'packs', 'A million pieces is the most for one entry');
  if (!(await partOf(rest.part))) return gone;
  const minor = price === '' ? undefined : Math.round(Number(price.replace(',', '.')) * 100) * packs;
  if (minor !== undefined && minor > 2_000_000_000) return refusedField(data, 'price', 'That is more than one entry can hold; split it');
  const wish: Wish = { kind: 'received', pieces: packs * pack };
  const written = await writeEntry(wish, {
    ...rest,
    packs,
    ...(supplier && { supplier }),
    ...(minor !== undefined && { price: minor }),
    member: member.id,
  });
  if (!written.ok) return refused(data, written.message);
  return { done: `${wish.pieces} put in. ${written.after.onHand} there now.${newsWords(written)}` };
}

export async function countAction(_: FormState, data: FormData): Promise<FormState> {
  const member = await requireRight('/parts', 'write', 'stock');
  const form = readForm(data, z.object({ ...common, count: pieces('the count', 0), reason: optional(200) }));
  if (!form.ok) return form.state;
  const { count, ...rest } = form.value;
  if (!(await partOf(rest.part))) return gone;
  const written = await writeEntry({ kind: 'counted', pieces: count }, { ...rest, member: member.id });
  if (!written.ok) return refused(data, written.message);
  if (written.again) return { done: 'This count was written down before.' };
  const difference = count - written.before.onHand;
  const words =
    difference === 0
      ? 'As the book says'
      : `The book said ${written.before.onHand}: ${Math.abs(difference)} ${difference < 0 ? 'fewer' : 'more'}`;
  return { done: `Counted ${count}. ${words}.` };
}

export async function lowAction(_: FormState, data: FormData): Promise<FormState> {
  await requireRight('/parts', 'write', 'stock');
  const form = readForm(data, z.object({ part: common.part, low: z.union([z.literal(''), pieces('the mark')]) }));
  if (!form.ok) return form.state;
  const { part, low } = form.value;
  if (!(await partOf(part))) return gone;
  await setLow(part, low === '' ? null : low);
  return { done: low === '' ? 'No mark any more.' : `Low when fewer than ${low} are free.` };
}

export async function takeBackAction(_: FormState, data: FormData): Promise<FormState> {
  const member = await requireRight('/parts', 'write', 'stock');
  const form = readForm(data, z.object({ id: z.coerce.number().int().min(1).max(Number.MAX_SAFE_INTEGER) }));
  if (!form.ok) return form.state;
  const taken = await takeBack(form.value.id, member.id);
  return taken.ok ? { done: 'Taken back.' } : { message: taken.message };
}

const jobDone = { reserve: 'Reserved', take: 'Taken', release: 'Released' };

export async function jobPartsAction(_: FormState, data: FormData): Promise<FormState> {
  const member = await requireRight('/parts', 'write', 'stock');
  const form = readForm(data, z.object({ page: z.string().max(40), step: z.enum(jobSteps) }));
  if (!form.ok) return form.state;
  const { page, step } = form.value;
  const { evaluated, catalogue, stock, reserved } = await loadPage(page);
  const wishes = jobWishes(tally(needsOf(evaluated), catalogue, stock, reserved).lines, step);
  if (wishes.length === 0) return { done: 'There was nothing to write down.' };
  const written = await writeForJob(wishes, { page, member: member.id });
  if (!written.ok) return { message: `${written.part}: ${written.message}` };
  return { done: `${jobDone[step]}: ${wishes.map(({ part, wish }) => `${wish.pieces} × ${part}`).join(', ')}.` };
}
