import type { Metadata } from 'next';
import { copyMachineAction } from '@/app/actions/chart-versions';
import { ActionForm } from '@/lib/ui/forms';
import { Entry, LinkButton } from '@/lib/ui/shell';
import { requireRight } from '../../../../member';
import { chartScreen } from '../../../charts/kinds';
import { Frame } from '../../../frame';

export const metadata: Metadata = { title: 'Copy a machine' };

export default async function CopyMachine({ params }: { params: Promise<{ id: string }> }) {
  const { id } = await params;
  const { title, path, chart } = await chartScreen('machine', id);
  const member = await requireRight(`${path}/copy`, 'create', 'machine');
  return (
    <Frame member={member} here="Machines" title="Copy a machine">
      <Entry>
        <h1>A machine like {title}</h1>
        <p className="lead">
          The copy has its switches, lamps, loads and harness. Its serial number, its photos and what was found on it stay behind: they are
          true of that one machine.
        </p>
        <ActionForm
          action={copyMachineAction}
          submit="Make the copy"
          fields={[
            { name: 'from', label: '', type: 'hidden', value: id },
            { name: 'name', label: 'Name', value: 'name' in chart ? chart.name : '', required: true },
            { name: 'unit', label: 'Which one', hint: 'Such as “no. 4”, when the club has several.' },
          ]}
        />
        <div className="actions">
          <LinkButton href={path}>Leave it</LinkButton>
        </div>
      </Entry>
    </Frame>
  );
}
