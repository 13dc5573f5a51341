import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { lineCounts } from '@/app/actions/new-chart';
import { chartFiles } from '@/app/chart-file';
import { terminalsOf } from '@/lib/core/parts';
import { getDesign, listMachines } from '@/lib/store/machines';
import { getCatalogue } from '@/lib/store/parts';
import { ChartFiles } from '@/lib/ui/chart-files';
import { EntryScreen } from '@/lib/ui/entry/entry-screen';
import { newLines } from '@/lib/ui/entry/places';
import { Entry, LinkButton } from '@/lib/ui/shell';
import { requireRight } from '../../../../member';
import { Frame } from '../../../frame';

type Props = { params: Promise<{ id: string }>; searchParams: Promise<Partial<Record<(typeof lineCounts)[number], string>>> };

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  return { title: `Board design ${decodeURIComponent((await params).id)}` };
}

export default async function EnterDesign({ params, searchParams }: Props) {
  const id = decodeURIComponent((await params).id);
  const member = await requireRight(`/designs/${id}/enter`, 'write', 'machine');
  const found = await getDesign(id);
  if (!found) notFound();
  const [query, machines, { catalogue }] = await Promise.all([searchParams, listMachines(), getCatalogue()]);
  const own = machines.filter((m) => m.design === id);
  const counts = Object.fromEntries(lineCounts.map((key) => [key, Math.max(0, Math.floor(Number(query[key])) || 0)]));
  return (
    <Frame member={member} here="Machines" title={`Board design ${id}`}>
      <Entry>
        <h1>Board design {id}</h1>
        <p className="sub">
          <span>{found.design.name}</span>
          <span>version {found.version}</span>
          <span>{own.length === 0 ? 'No machine has it yet' : `Shared by ${own.map((m) => m.title).join('; ')}`}</span>
        </p>
        <p className="actions">
          <LinkButton href={`/machines/new?design=${encodeURIComponent(id)}`}>New machine on it</LinkButton>
        </p>
        <EntryScreen
          back="/machines"
          kept={{ machine: null, design: found.design, versions: { machine: 0, design: found.version } }}
          member={member.id}
          lines={newLines(counts)}
          terminals={terminalsOf(catalogue) ?? []}
          sharers={own.map((m) => m.title)}
        />
        <ChartFiles base={`/designs/${id}`} files={chartFiles({ design: found.design })} />
      </Entry>
    </Frame>
  );
}
