import type { Metadata } from 'next';
import { asideAction, assignAction } from '@/app/actions/jobs';
import { requireRight } from '@/app/member';
import { can } from '@/lib/access/can';
import { getJob } from '@/lib/store/jobs';
import { listMembers } from '@/lib/store/members';
import { ActionForm } from '@/lib/ui/forms';
import { Entry, Widget } from '@/lib/ui/shell';
import { Frame } from '../../../frame';
import { loadPage } from '../load';

export const metadata: Metadata = { title: 'A job' };

/** Whose a job is, and whether it is set aside. The rest of its state follows from the page. */
export default async function Job({ params }: { params: Promise<{ id: string }> }) {
  const { id } = await params;
  const member = await requireRight(`/pages/${id}/job`, 'read', 'page');
  const [{ evaluated }, job, members] = await Promise.all([loadPage(id), getJob(id), listMembers()]);
  const page = { name: 'page', label: '', type: 'hidden' as const, value: id };
  const holder = members.find((m) => m.id === job.assigned)?.name ?? 'Nobody';
  return (
    <Frame member={member} here="Bench" title={`Job: ${evaluated.title}`}>
      <Entry>
        <p className="soft">
          <a href={`/pages/${id}`}>{evaluated.title}</a>
        </p>
        <h1>Whose job it is</h1>
        <p>
          {holder} has it.{job.aside !== null && ` Set aside: ${job.aside}`}
        </p>
        {can(member, 'write', 'page') && (
          <>
            <ActionForm
              action={assignAction}
              submit="Give it"
              fields={[
                page,
                {
                  name: 'member',
                  label: 'Whose',
                  type: 'select',
                  value: job.assigned ?? '',
                  options: [{ value: '', label: 'Nobody’s' }, ...members.map((m) => ({ value: m.id, label: m.name }))],
                },
              ]}
            />
            <Widget title="Set aside" id="aside">
              <ActionForm
                action={asideAction}
                submit="Keep"
                quiet
                fields={[page, { name: 'reason', label: 'Why it waits', value: job.aside ?? '', hint: 'Empty: it is taken up again' }]}
              />
            </Widget>
          </>
        )}
      </Entry>
    </Frame>
  );
}
