'use server';
/** Notes what a machine has otherwise than its manual, and withdraws such notes. A chart that changed has its pages computed again. */
import { redirect } from 'next/navigation';
import * as z from 'zod';
import { requireRight } from '@/app/member';
import { indexChart, readMachine } from '@/lib/core/chart';
import { withDeviation, withoutDeviation } from '@/lib/core/chart/found';
import { readFoundColour } from '@/lib/core/chart/found-colour';
import { chartSays, placeOfKey } from '@/lib/core/chart/found-places';
import { recomputeLater } from '@/lib/search/dependents';
import { conflictWords } from '@/lib/store/charts';
import { getDesign, getMachine, putMachine } from '@/lib/store/machines';
import type { FormState } from '@/lib/ui/forms';
import { readForm, refused } from './read';

const id = z.string().max(64);
const day = z.iso.date('Write the day as year-month-day');
const today = () => new Date().toISOString().slice(0, 10);
const upTo = (most: number) => z.string().trim().max(most, `Keep it to ${most} characters`);
const gone = 'That machine is no longer in the notebook.';

export async function noteFoundAction(_: FormState, data: FormData): Promise<FormState> {
  const member = await requireRight('/machines', 'write', 'machine');
  const form = readForm(
    data,
    z.object({
      machine: id,
      place: z.string().max(80),
      wire: upTo(60),
      here: upTo(200),
      manual: upTo(200),
      since: upTo(40),
      why: upTo(300),
      on: day.refine((on) => on <= today(), 'A day that is still to come cannot have been seen'),
    }),
  );
  if (!form.ok) return form.state;
  const { machine: name, place: key, wire, here, manual, since, why, on } = form.value;
  const wrong = (errors: Record<string, string>): FormState => ({ ...refused(data, ''), message: undefined, errors });
  const kept = await getMachine(name);
  const design = kept && (await getDesign(kept.machine.design));
  if (!kept || !design) return refused(data, gone);
  const chart = indexChart(kept.machine, design.design);
  const place = placeOfKey(chart, key);
  if (!place) return wrong({ place: 'Choose where it differs' });
  const colour = wire === '' ? null : readFoundColour(wire, design.design.stripeOrder ?? 'base-stripe');
  if (colour && !colour.ok) return wrong({ wire: colour.message });
  if (!colour && here === '') return wrong({ here: 'Say what is there, or give the colour of the wire above' });
  const read = readMachine(
    withDeviation(kept.machine, {
      on,
      by: member.name.slice(0, 80),
      place,
      manual: manual || chartSays(chart, place).slice(0, 200),
      here: here || `The wire is ${colour?.colour}`,
      why,
      ...(colour && { wire: colour.colour }),
      ...(since && { since }),
    }),
  );
  if (!read.ok) return refused(data, read.findings.map((f) => `${f.message} ${f.mend}`).join(' '));
  const put = await putMachine(read.value, kept.version, member.id);
  if (!put.ok)
    return refused(
      data,
      put.conflicts.map((c) => conflictWords(c).message).join(' ') || 'Somebody changed this chart meanwhile. Send it again.',
    );
  await recomputeLater('machine', name);
  redirect(`/machines/${encodeURIComponent(name)}#as-found`);
}

export async function withdrawFoundAction(_: FormState, data: FormData): Promise<FormState> {
  const member = await requireRight('/machines', 'write', 'machine');
  const form = readForm(data, z.object({ machine: id, id, why: upTo(300).min(1, 'Say why it no longer holds') }));
  if (!form.ok) return form.state;
  const { machine: name, id: found, why } = form.value;
  const kept = await getMachine(name);
  if (!kept) return refused(data, gone);
  const without = withoutDeviation(kept.machine, found, { on: today(), by: member.name.slice(0, 80), why });
  if (!without) return refused(data, 'It was withdrawn already, or is not on record any more.');
  const put = await putMachine(without, kept.version, member.id);
  if (!put.ok) return refused(data, 'Somebody changed this chart meanwhile. Send it again.');
  await recomputeLater('machine', name);
  redirect(`/machines/${encodeURIComponent(name)}#as-found`);
}
