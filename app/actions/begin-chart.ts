'use server';
import { redirect } from 'next/navigation';
import * as z from 'zod';
import { requireRight } from '@/app/member';
import { copyOfMachine } from '@/lib/core/chart/copy';
import type { BoardDesign } from '@/lib/core/chart/schema';
import { boardDesign } from '@/lib/core/chart/schema';
import { getDesign, getMachine, listDesigns, listMachines, putDesign, putMachine } from '@/lib/store/machines';
import type { FormState } from '@/lib/ui/forms';
import { lineCounts, newMachine, newMachineId, readBoards } from './new-chart';
import { readForm, refused, refusedField } from './read';

const text = (most: number, mend: string) => z.string().trim().max(most, mend);

export async function newMachineAction(_: FormState, data: FormData): Promise<FormState> {
  const member = await requireRight('/machines/new', 'create', 'machine');
  const form = readForm(
    data,
    z.object({
      name: text(80, 'Keep the name under 80 characters').min(1, 'Write the name that stands on the machine'),
      unit: text(20, 'Keep the club’s mark under 20 characters, such as no. 2'),
      sort: text(80, 'Say in under 80 characters what it is'),
      serial: text(40, 'Keep the serial number under 40 characters'),
      since: text(10, 'Write a year, or year-month-day'),
      design: z.string().max(40),
      copy: z.string().max(64),
    }),
  );
  if (!form.ok) return form.state;
  const { name, unit, sort, serial, since, design, copy } = form.value;
  const from = copy ? await getMachine(copy) : null;
  if (copy && !from) return refusedField(data, 'copy', 'That machine is no longer in the notebook; choose another.');
  if (from && design && from.machine.design !== design)
    return refusedField(
      data,
      'design',
      `${from.machine.name} stands on ${from.machine.design}: choose that board design, or copy nothing.`,
    );
  const board = await getDesign(from?.machine.design ?? design);
  if (!board) return refusedField(data, 'design', 'Choose the board design that the machine has, or begin a new one first.');
  const id = newMachineId(name, unit, new Set((await listMachines()).map((m) => m.id)));
  const about = { id, name, sort, ...(unit && { unit }), ...(serial && { serial }), ...(since && { since }) };
  const kept = await putMachine(from ? copyOfMachine(from.machine, about) : newMachine(board.design, about), null, member.id);
  if (!kept.ok) return refused(data, 'Somebody began a machine of this name in the same moment. Press again.');
  redirect(`/machines/${id}/enter`);
}

const count = (most: number) => z.coerce.number('Write a number').int('Write a whole number').min(0).max(most, `Write ${most} at most`);

export async function newDesignAction(_: FormState, data: FormData): Promise<FormState> {
  const member = await requireRight('/designs/new', 'create', 'machine');
  const form = readForm(
    data,
    z.object({
      id: z
        .string()
        .trim()
        .toUpperCase()
        .regex(/^[A-Z0-9][A-Z0-9-]{0,31}$/, 'Use letters, digits and hyphens, such as SB-3'),
      name: text(120, 'Keep it under 120 characters').min(1, 'Say what the board set is'),
      boards: z.string().max(2000),
      polarity: z.enum(['strobe-low', 'strobe-high']),
      idle: z.enum(['float', 'pulled', 'driven']),
      rowSupplyVolts: z.coerce.number('Write volts, such as 12').positive('Write volts above 0, such as 12'),
      thresholdRatio: z.coerce
        .number('Write a share, such as 0.4')
        .gt(0, 'Write a share above 0')
        .lt(1, 'Write a share below 1, such as 0.4'),
      columns: count(16),
      rows: count(16),
      direct: count(32),
      lampColumns: count(16),
      lampRows: count(16),
      loads: count(64),
      copy: z.string().max(40),
    }),
  );
  if (!form.ok) return form.state;
  const { id, name, boards, polarity, idle, rowSupplyVolts, thresholdRatio, copy, ...counts } = form.value;
  if ((await listDesigns()).some((d) => d.id === id))
    return refusedField(data, 'id', `${id} is in the notebook already; give another mark.`);
  let chart: BoardDesign;
  if (copy) {
    const from = await getDesign(copy);
    if (!from) return refusedField(data, 'copy', 'That board design is no longer in the notebook; choose another.');
    chart = { ...from.design, id, name };
  } else {
    const list = readBoards(boards);
    if (!list) return refusedField(data, 'boards', 'Write one board a line, its designator first, such as A3 Switch board.');
    const read = boardDesign.safeParse({
      format: 'fettlebook-board/1',
      id,
      name,
      boards: list,
      matrix: { polarity, idle, rowSupplyVolts, thresholdRatio },
      nets: [],
      headers: [],
    });
    if (!read.success) return refused(data, read.error.issues.map((i) => `${i.path.join('.')}: ${i.message}`).join('; '));
    chart = read.data;
  }
  const kept = await putDesign(chart, null, member.id);
  if (!kept.ok) return refusedField(data, 'id', `Somebody began ${id} in the same moment; give another mark.`);
  const query = copy ? '' : `?${new URLSearchParams(lineCounts.map((key) => [key, String(counts[key])]))}`;
  redirect(`/designs/${id}/enter${query}`);
}
