import type { Metadata } from 'next';
import { jobPartsAction, takeBackAction } from '@/app/actions/stock';
import { requireRight } from '@/app/member';
import { can } from '@/lib/access/can';
import { tally } from '@/lib/core/parts';
import { type JobStep, jobSteps, jobWishes } from '@/lib/core/parts/job-wishes';
import { needsOf } from '@/lib/notebook/needs';
import { ledger } from '@/lib/store/stock';
import { ActionForm } from '@/lib/ui/forms';
import { Holders } from '@/lib/ui/holders';
import { Ledger } from '@/lib/ui/ledger';
import { Empty, Entry, Widget } from '@/lib/ui/shell';
import { Frame } from '../../../frame';
import { loadPage } from '../load';

export const metadata: Metadata = { title: 'Parts of a job' };
const words: Record<JobStep, string> = { reserve: 'Reserve what is there', take: 'Take what is needed', release: 'Release all' };

/** The parts of one job: reserved, taken and released together. */
export default async function JobParts({ params }: { params: Promise<{ id: string }> }) {
  const { id } = await params;
  const member = await requireRight(`/pages/${id}/parts`, 'read', 'stock');
  const { evaluated, catalogue, stock, reserved } = await loadPage(id);
  const { lines } = tally(needsOf(evaluated), catalogue, stock, reserved);
  const entries = await ledger({ page: id, limit: 30 });
  const writes = can(member, 'write', 'stock');
  const steps = jobSteps.filter((step) => jobWishes(lines, step).length > 0);
  return (
    <Frame member={member} here="Bench" title={`Parts: ${evaluated.title}`}>
      <Entry>
        <p className="soft">
          <a href={`/pages/${id}`}>{evaluated.title}</a>
        </p>
        <h1>Parts of this job</h1>
        {lines.length === 0 ? (
          <Empty title="Nothing needed yet">Connector plans, fix records and the parts tally of the page say what it needs.</Empty>
        ) : (
          <table className="stack">
            <thead>
              <tr>
                <th>Part</th>
                <th className="n">Needed</th>
                <th className="n">In stock</th>
                <th className="n">Free</th>
                <th className="n">Reserved</th>
                <th className="n">Taken</th>
                <th className="n">Short</th>
              </tr>
            </thead>
            <tbody>
              {lines.map((l) => (
                <tr key={l.part ?? l.name}>
                  <td>
                    {l.part && l.onHand !== null ? <a href={`/parts/${l.part}`}>{l.name}</a> : l.name}
                    {l.holders.length > 0 && (
                      <span className="note soft row-note">
                        Others have <Holders holders={l.holders} />
                      </span>
                    )}
                  </td>
                  <td className="n" data-h="needed">
                    {l.needed}
                  </td>
                  <td className="n" data-h="in stock">
                    {l.onHand ?? 'not kept'}
                  </td>
                  <td className="n" data-h="free">
                    {l.onHand === null ? '' : Math.max(0, l.onHand - l.elsewhere)}
                  </td>
                  <td className="n" data-h="reserved">
                    {l.reserved}
                  </td>
                  <td className="n" data-h="taken">
                    {l.used}
                  </td>
                  <td className="n" data-h="short">
                    {l.onHand !== null && l.short > 0 ? <b>{l.short}</b> : ''}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        )}
        {writes && (
          <ActionForm
            action={jobPartsAction}
            submit="Do it"
            fields={[
              { name: 'page', label: '', type: 'hidden', value: id },
              {
                name: 'step',
                label: 'All parts of this job',
                type: 'select',
                options: (steps.length > 0 ? steps : [...jobSteps]).map((step) => ({ value: step, label: words[step] })),
              },
            ]}
          />
        )}
        {entries.length > 0 && (
          <Widget title="Entries of this job" id="entries">
            <Ledger entries={entries} part takeBack={writes ? takeBackAction : undefined} />
          </Widget>
        )}
      </Entry>
    </Frame>
  );
}
