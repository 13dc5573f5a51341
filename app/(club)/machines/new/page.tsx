import type { Metadata } from 'next';
import { newMachineAction } from '@/app/actions/begin-chart';
import { listDesigns, listMachines } from '@/lib/store/machines';
import { ActionForm } from '@/lib/ui/forms';
import { Entry } from '@/lib/ui/shell';
import { requireRight } from '../../../member';
import { Frame } from '../../frame';

export const metadata: Metadata = { title: 'New machine' };

export default async function NewMachine({ searchParams }: { searchParams: Promise<{ design?: string; copy?: string }> }) {
  const member = await requireRight('/machines/new', 'create', 'machine');
  const [{ design, copy }, designs, machines] = await Promise.all([searchParams, listDesigns(), listMachines()]);
  return (
    <Frame member={member} here="Machines" title="New machine">
      <Entry>
        <h1>New machine</h1>
        <p className="lead">
          Its boards are entered once and shared by every machine that has them. Here you only say which machine it is; its switches, lamps
          and loads come next, by paste or by keyboard.
        </p>
        <ActionForm
          action={newMachineAction}
          submit="Go on to its circuits"
          fields={[
            { name: 'name', label: 'Name', hint: 'As it stands on the machine.', required: true },
            { name: 'unit', label: 'The club’s mark', hint: 'Which one it is when there are several: no. 2. May stay empty.' },
            { name: 'sort', label: 'What it is', hint: 'Solid-state pinball, four flippers.' },
            { name: 'serial', label: 'Serial number', hint: 'May stay empty.' },
            { name: 'since', label: 'In the club since', hint: 'A year. May stay empty.' },
            {
              name: 'design',
              label: 'Board design',
              type: 'select',
              value: design ?? '',
              options: [
                { value: '', label: machines.length > 0 ? 'That of the machine copied below' : 'None yet' },
                ...designs.map((d) => ({ value: d.id, label: `${d.id}: ${d.name}` })),
              ],
            },
            {
              name: 'copy',
              label: 'Copy the circuits of',
              type: 'select',
              value: copy ?? '',
              hint: 'For a second machine of the same kind. What was found on the other one is not copied.',
              options: [
                { value: '', label: 'Nothing: begin empty' },
                ...machines.map((m) => ({ value: m.id, label: `${m.title} (${m.design})` })),
              ],
            },
          ]}
        />
        <p className="soft">
          Its boards are not in the list? <a href="/designs/new">Begin a new board design</a>, then come back here.
        </p>
      </Entry>
    </Frame>
  );
}
