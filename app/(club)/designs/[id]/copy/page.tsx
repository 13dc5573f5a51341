import type { Metadata } from 'next';
import { copyDesignAction } from '@/app/actions/chart-versions';
import { ActionForm } from '@/lib/ui/forms';
import { Entry, LinkButton } from '@/lib/ui/shell';
import { requireRight } from '../../../../member';
import { chartScreen } from '../../../charts/kinds';
import { Frame } from '../../../frame';

export const metadata: Metadata = { title: 'Copy a board design' };

export default async function CopyDesign({ params }: { params: Promise<{ id: string }> }) {
  const { id } = await params;
  const { title, path, chart } = await chartScreen('design', id);
  const member = await requireRight(`${path}/copy`, 'create', 'machine');
  return (
    <Frame member={member} here="Machines" title="Copy a board design">
      <Entry>
        <h1>A board design like {title}</h1>
        <p className="lead">The copy has its boards, headers, pins and lines. Change there what differs.</p>
        <ActionForm
          action={copyDesignAction}
          submit="Make the copy"
          fields={[
            { name: 'from', label: '', type: 'hidden', value: id },
            { name: 'design', label: 'Short name', hint: 'Capital letters, digits and hyphens, such as SB-3.', required: true },
            { name: 'name', label: 'Name', value: chart.name, required: true },
          ]}
        />
        <div className="actions">
          <LinkButton href={path}>Leave it</LinkButton>
        </div>
      </Entry>
    </Frame>
  );
}
