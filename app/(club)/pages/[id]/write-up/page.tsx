import type { Metadata } from 'next';
import { pricesAction, sendAction } from '@/app/actions/write-up';
import { loadDraft } from '@/app/write-up';
import { can } from '@/lib/access/can';
import { listReportLinks } from '@/lib/access/reports';
import { staleLines } from '@/lib/notebook/writeup/wording';
import { settings } from '@/lib/store/settings';
import { copiesOf } from '@/lib/store/write-ups';
import { ActionForm } from '@/lib/ui/forms';
import { PaperLinks } from '@/lib/ui/paper-links';
import { Entry, LinkButton, Widget } from '@/lib/ui/shell';
import { WriteUpDraft } from '@/lib/ui/write-up/draft';
import { requireRight } from '../../../../member';
import { Frame } from '../../../frame';
import { Sent } from './sent';

export const metadata: Metadata = { title: 'Write-up' };

export default async function WriteUpPage({ params }: { params: Promise<{ id: string }> }) {
  const { id } = await params;
  const member = await requireRight(`/pages/${id}/write-up`, 'read', 'page');
  const { lines, copy, priced, letterhead } = await loadDraft(id);
  const words = can(member, 'create', 'report');
  const [links, copies] = can(member, 'read', 'report') ? await Promise.all([listReportLinks(id), copiesOf(id)]) : [[], []];
  const stale = staleLines(lines).length;
  const hidden = { name: 'page', label: '', type: 'hidden', value: id } as const;
  return (
    <Frame member={member} here="Bench" title="Write-up">
      <Entry>
        <div className="actions no-print">
          <LinkButton href={`/pages/${id}`}>Back to the page</LinkButton>
          {words && <LinkButton href="#send">Send it</LinkButton>}
        </div>
        {stale > 0 && (
          <p className="notice-line stale-line" role="status">
            <b>{stale === 1 ? 'One line' : `${stale} lines`}</b> {stale === 1 ? 'was' : 'were'} worded before the facts under{' '}
            {stale === 1 ? 'it' : 'them'} changed. Look at {stale === 1 ? 'it' : 'them'} before you send.
          </p>
        )}
        <WriteUpDraft page={id} copy={copy} lines={lines} words={words} />
        <div className="write-up-tools no-print">
          {words && (
            <ActionForm
              action={pricesAction}
              submit={priced ? 'Leave prices out' : 'Show prices'}
              quiet
              fields={[hidden, { name: 'priced', label: '', type: 'hidden', value: priced ? 'no' : 'yes' }]}
            />
          )}
          <PaperLinks label="On paper" href={`/pages/${id}/write-up.pdf`} />
        </div>
        {words && (
          <div className="no-print">
            <Widget title="Send it to the customer" id="send">
              <p>
                Sending keeps a numbered copy as it stands now and makes a link to it; nothing that is changed later changes what the
                customer sees. No account is needed, and nothing else can be seen. At its head stands {letterhead.name}, as on the{' '}
                <a href="/club#letterhead">letterhead</a>.
              </p>
              <ActionForm
                action={sendAction}
                submit="Keep a copy and make its link"
                fields={[
                  hidden,
                  {
                    name: 'days',
                    label: 'The link works for',
                    type: 'select',
                    value: '90',
                    options: [
                      { value: '30', label: '30 days' },
                      { value: '90', label: '90 days' },
                      { value: '365', label: 'one year' },
                    ],
                  },
                  {
                    name: 'phrase',
                    label: 'Pass phrase',
                    hint: 'May stay empty. Tell it to the customer yourself; it is not shown again. Capitals and spaces do not count.',
                    autoComplete: 'off',
                  },
                ]}
              />
            </Widget>
            <Sent page={id} links={links} copies={copies} now={copy} stale={stale > 0} baseUrl={settings().baseUrl} />
          </div>
        )}
      </Entry>
    </Frame>
  );
}
