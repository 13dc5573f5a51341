'use server';
/** Brings back an earlier state of a chart as a new version, and begins a chart as a copy of another. */
import { redirect } from 'next/navigation';
import * as z from 'zod';
import { requireRight } from '@/app/member';
import { readDesign, readMachine } from '@/lib/core/chart';
import { copyOfDesign, copyOfMachine, idOf } from '@/lib/core/chart/copy';
import type { BoardDesign, Machine } from '@/lib/core/chart/schema';
import { recomputeLater } from '@/lib/search/dependents';
import { type ChartKind, getVersion } from '@/lib/store/charts';
import { getDesign, getMachine, putDesign, putMachine } from '@/lib/store/machines';
import type { FormState } from '@/lib/ui/forms';
import { readForm, refused } from './read';

const kind = z.enum(['machine', 'design']);
const id = z.string().max(64);
const number = z
  .string()
  .regex(/^\d{1,9}$/)
  .transform(Number);
const path = (of: ChartKind, chart: string) => `/${of === 'machine' ? 'machines' : 'designs'}/${encodeURIComponent(chart)}`;
const changedMeanwhile = 'Somebody changed this chart meanwhile. Load this screen again and look once more.';

export async function restoreVersionAction(_: FormState, data: FormData): Promise<FormState> {
  const member = await requireRight('/machines', 'write', 'machine');
  const form = readForm(data, z.object({ kind, id, version: number, expected: number }));
  if (!form.ok) return { message: 'This screen is out of date. Load it again.' };
  const { kind: of, id: chart, version, expected } = form.value;
  const past = await getVersion<BoardDesign | Machine>(of, chart, version);
  const now = of === 'machine' ? await getMachine(chart) : await getDesign(chart);
  if (!past || !now) return { message: 'That version is not there any more.' };
  // What was looked at is what is kept: a change of somebody else since is not joined in unseen.
  if (now.version !== expected) return { message: changedMeanwhile };
  const kept =
    past.chart.format === 'fettlebook-machine/1'
      ? await putMachine(past.chart, expected, member.id)
      : await putDesign(past.chart, expected, member.id);
  if (!kept.ok) return { message: changedMeanwhile };
  await recomputeLater(of, chart);
  redirect(`${path(of, chart)}/versions`);
}

export async function copyMachineAction(_: FormState, data: FormData): Promise<FormState> {
  const member = await requireRight('/machines', 'create', 'machine');
  const name = z.string().trim().min(1, 'Give it a name').max(80, 'Keep the name to 80 characters');
  const form = readForm(data, z.object({ from: id, name, unit: z.string().trim().max(20, 'Keep it to 20 characters') }));
  if (!form.ok) return form.state;
  const { from, name: title, unit } = form.value;
  const original = await getMachine(from);
  if (!original) return refused(data, 'That machine is no longer in the notebook.');
  const address = idOf(title, unit);
  if (address === '') return { ...refused(data, ''), message: undefined, errors: { name: 'Use a letter or a digit' } };
  if (await getMachine(address))
    return {
      ...refused(data, ''),
      message: undefined,
      errors: { unit: `There is a machine ${address} already; give this one another number` },
    };
  const read = readMachine(copyOfMachine(original.machine, { id: address, name: title, unit: unit || undefined }));
  if (!read.ok) return refused(data, read.findings.map((f) => `${f.message} ${f.mend}`).join(' '));
  const kept = await putMachine(read.value, null, member.id);
  if (!kept.ok) return refused(data, 'Somebody has just made that machine. Give this one another number.');
  redirect(path('machine', address));
}

export async function copyDesignAction(_: FormState, data: FormData): Promise<FormState> {
  const member = await requireRight('/machines', 'create', 'machine');
  const design = z
    .string()
    .trim()
    .toUpperCase()
    .regex(/^[A-Z0-9][A-Z0-9-]{0,31}$/, 'Use capital letters, digits and hyphens, such as SB-3');
  const name = z.string().trim().min(1, 'Give it a name').max(120, 'Keep the name to 120 characters');
  const form = readForm(data, z.object({ from: id, design, name }));
  if (!form.ok) return form.state;
  const { from, design: address, name: title } = form.value;
  const original = await getDesign(from);
  if (!original) return refused(data, 'That board design is no longer in the notebook.');
  if (await getDesign(address))
    return { ...refused(data, ''), message: undefined, errors: { design: `There is a design ${address} already` } };
  const read = readDesign(copyOfDesign(original.design, { id: address, name: title }));
  if (!read.ok) return refused(data, read.findings.map((f) => `${f.message} ${f.mend}`).join(' '));
  const kept = await putDesign(read.value, null, member.id);
  if (!kept.ok) return refused(data, 'Somebody has just made that design. Choose another name.');
  redirect(path('design', address));
}
