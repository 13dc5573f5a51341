import type { Metadata } from 'next';
import { shareAction, unshareAction } from '@/app/actions/pages';
import { can } from '@/lib/access/can';
import { listReportLinks } from '@/lib/access/reports';
import { writeUp } from '@/lib/notebook/writeup';
import { settings } from '@/lib/store/settings';
import { ActionForm } from '@/lib/ui/forms';
import { Entry, LinkButton, Widget } from '@/lib/ui/shell';
import { day } from '@/lib/ui/words';
import { WriteUpSheet } from '@/lib/ui/write-up';
import { clubName } from '../../../../club';
import { requireRight } from '../../../../member';
import { Frame } from '../../../frame';
import { loadPage } from '../load';

export const metadata: Metadata = { title: 'Write-up' };

export default async function WriteUpPage({ params }: { params: Promise<{ id: string }> }) {
  const { id } = await params;
  const member = await requireRight(`/pages/${id}/write-up`, 'read', 'page');
  const { page, content, chart, evaluated } = await loadPage(id);
  const [club, links] = await Promise.all([clubName(), can(member, 'read', 'report') ? listReportLinks(id) : []]);
  return (
    <Frame member={member} here="Bench" title="Write-up">
      <Entry>
        <div className="actions no-print">
          <LinkButton href={`/pages/${id}`}>Back to the page</LinkButton>
        </div>
        <WriteUpSheet writeUp={writeUp(evaluated, content, chart)} club={club} on={day(page.on)} />
        {can(member, 'create', 'report') && (
          <div className="no-print">
            <Widget title="For the customer" id="share">
              <p>
                A link shows this write-up, as the page stands, to anyone who has it; no account is needed and nothing else can be seen.
              </p>
              {links.map((l) => (
                <div key={l.id} className="shared-link">
                  <input readOnly value={`${settings().baseUrl}/report/${l.token}`} aria-label="Link for the customer" data-copy />
                  <p className="soft">since {day(l.createdAt)}</p>
                  <ActionForm
                    action={unshareAction}
                    submit="Take it back"
                    quiet
                    fields={[
                      { name: 'id', label: '', type: 'hidden', value: l.id },
                      { name: 'page', label: '', type: 'hidden', value: id },
                    ]}
                  />
                </div>
              ))}
              <ActionForm
                action={shareAction}
                submit="Make a link"
                quiet
                fields={[{ name: 'page', label: '', type: 'hidden', value: id }]}
              />
            </Widget>
          </div>
        )}
      </Entry>
    </Frame>
  );
}
