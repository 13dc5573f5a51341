import type { Metadata } from 'next';
import { newPageAction } from '@/app/actions/pages';
import { listMachines } from '@/lib/store/machines';
import { ActionForm } from '@/lib/ui/forms';
import { Entry } from '@/lib/ui/shell';
import { requireRight } from '../../../member';
import { Frame } from '../../frame';

export const metadata: Metadata = { title: 'Start a page' };

export default async function NewPage({ searchParams }: { searchParams: Promise<{ machine?: string; title?: string }> }) {
  const member = await requireRight('/pages/new', 'create', 'page');
  const [{ machine, title }, machines] = await Promise.all([searchParams, listMachines()]);
  return (
    <Frame member={member} here="Bench" title="Start a page">
      <Entry>
        <h1>Start a page</h1>
        <ActionForm
          action={newPageAction}
          submit="Start"
          fields={[
            {
              name: 'title',
              label: 'What is wrong, in one line',
              hint: 'As the owner said it: “spinner counts sometimes”.',
              value: title?.slice(0, 200),
              required: true,
            },
            {
              name: 'machine',
              label: 'Machine',
              type: 'select',
              value: machine,
              options: [...machines.map((m) => ({ value: m.id, label: m.title })), { value: '', label: 'None: a note' }],
            },
          ]}
        />
      </Entry>
    </Frame>
  );
}
