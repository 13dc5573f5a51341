import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { chartFiles } from '@/app/chart-file';
import { terminalsOf } from '@/lib/core/parts';
import { getDesign, getMachine, listMachines } from '@/lib/store/machines';
import { getCatalogue } from '@/lib/store/parts';
import { ChartFiles } from '@/lib/ui/chart-files';
import { EntryScreen } from '@/lib/ui/entry/entry-screen';
import { Entry } from '@/lib/ui/shell';
import { requireRight } from '../../../../member';
import { Frame } from '../../../frame';

type Props = { params: Promise<{ id: string }> };

const titleOf = ({ name, unit }: { name: string; unit?: string | undefined }) => [name, unit].filter(Boolean).join(', ');

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  const found = await getMachine((await params).id);
  return { title: found ? `Circuits of ${titleOf(found.machine)}` : 'No such machine' };
}

export default async function EnterMachine({ params }: Props) {
  const { id } = await params;
  const member = await requireRight(`/machines/${id}/enter`, 'write', 'machine');
  const found = await getMachine(id);
  const board = found && (await getDesign(found.machine.design));
  if (!found || !board) notFound();
  const [machines, { catalogue }] = await Promise.all([listMachines(), getCatalogue()]);
  const title = titleOf(found.machine);
  return (
    <Frame member={member} here="Machines" title={title}>
      <Entry>
        <h1>{title}: its circuits</h1>
        <p className="sub">
          <span>
            Board design <a href={`/designs/${board.design.id}/enter`}>{board.design.id}</a>
          </span>
          <span>version {found.version}</span>
        </p>
        <EntryScreen
          back={`/machines/${id}`}
          kept={{ machine: found.machine, design: board.design, versions: { machine: found.version, design: board.version } }}
          member={member.id}
          lines={[]}
          terminals={terminalsOf(catalogue) ?? []}
          sharers={machines.filter((m) => m.design === board.design.id && m.id !== id).map((m) => m.title)}
        />
        <ChartFiles base={`/machines/${id}`} files={chartFiles({ machine: found.machine, design: board.design })} />
      </Entry>
    </Frame>
  );
}
