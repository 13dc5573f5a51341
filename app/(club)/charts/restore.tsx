/** Asks before an earlier state of a chart is brought back: what changes in the chart, and which pages would mean something else. */
import { notFound } from 'next/navigation';
import { restoreVersionAction } from '@/app/actions/chart-versions';
import { differences } from '@/lib/core/chart/differences';
import type { BoardDesign, Machine } from '@/lib/core/chart/schema';
import { previewDesign, previewMachine } from '@/lib/search/preview';
import { getVersion } from '@/lib/store/charts';
import { ChangeList } from '@/lib/ui/change-list';
import { ActionForm } from '@/lib/ui/forms';
import { Entry, LinkButton } from '@/lib/ui/shell';
import { requireRight } from '../../member';
import { Frame } from '../frame';
import { type ChartScreen, chartScreen } from './kinds';
import { PagesThatChange } from './pages-that-change';

export async function Restore({ kind, id, version }: Pick<ChartScreen, 'kind' | 'id'> & { version?: string }) {
  const screen = await chartScreen(kind, id);
  const member = await requireRight(`${screen.path}/versions`, 'write', 'machine');
  const number = /^\d{1,9}$/.test(version ?? '') ? Number(version) : notFound();
  const past = (await getVersion<BoardDesign | Machine>(kind, id, number)) ?? notFound();
  const changes = differences(screen.chart, past.chart);
  const preview = past.chart.format === 'fettlebook-machine/1' ? await previewMachine(past.chart) : await previewDesign(past.chart);
  return (
    <Frame member={member} here="Machines" title="Bring back">
      <Entry>
        <h1>Bring back version {number}?</h1>
        {changes.length === 0 ? (
          <p className="lead">The chart is exactly so now. There is nothing to bring back.</p>
        ) : (
          <>
            <p className="lead">
              {screen.title} will be as it was then, as version {screen.version + 1} in your name. Nothing that was saved since is lost: it
              stays in the list of versions.
            </p>
            <PagesThatChange preview={preview} />
            <ActionForm
              action={restoreVersionAction}
              submit="Bring it back"
              fields={[
                { name: 'kind', label: '', type: 'hidden', value: kind },
                { name: 'id', label: '', type: 'hidden', value: id },
                { name: 'version', label: '', type: 'hidden', value: String(number) },
                { name: 'expected', label: '', type: 'hidden', value: String(screen.version) },
              ]}
            />
          </>
        )}
        <div className="actions">
          <LinkButton href={`${screen.path}/versions`}>{changes.length === 0 ? 'All versions' : 'Leave it as it is'}</LinkButton>
        </div>
        {changes.length > 0 && (
          <>
            <h2 className="section-head">From now to then</h2>
            <ChangeList changes={changes} from="now" to={`version ${number}`} />
          </>
        )}
      </Entry>
    </Frame>
  );
}
