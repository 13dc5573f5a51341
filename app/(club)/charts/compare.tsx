/** Two states of a chart side by side, or two charts of one kind, or a machine and its board design. */
import { notFound } from 'next/navigation';
import { indexChart } from '@/lib/core/chart';
import { isOwn } from '@/lib/core/chart/against-design';
import { differences } from '@/lib/core/chart/differences';
import { getVersion } from '@/lib/store/charts';
import { getChartParts } from '@/lib/store/machines';
import { AgainstDesign } from '@/lib/ui/against-design';
import { ChangeList } from '@/lib/ui/change-list';
import { Entry, LinkButton } from '@/lib/ui/shell';
import { requireMember } from '../../member';
import { Frame } from '../frame';
import { type ChartScreen, chartScreen } from './kinds';

export interface CompareQuery {
  from?: string;
  to?: string;
  with?: string;
}

export async function Compare({ kind, id, query }: Pick<ChartScreen, 'kind' | 'id'> & { query: CompareQuery }) {
  const screen = await chartScreen(kind, id);
  const member = await requireMember(`${screen.path}/versions`);
  const { title, body } = await compared(screen, query);
  return (
    <Frame member={member} here="Machines" title="Compare">
      <Entry>
        <h1>{title}</h1>
        {body}
        <div className="actions">
          <LinkButton href={`${screen.path}/versions`}>All versions</LinkButton>
          <LinkButton href={screen.path}>{screen.title}</LinkButton>
        </div>
      </Entry>
    </Frame>
  );
}

async function compared(screen: ChartScreen, query: CompareQuery) {
  const { kind, id } = screen;
  if (kind === 'machine' && query.with === 'design') {
    const parts = (await getChartParts(id)) ?? notFound();
    return { title: `${screen.title} and its board design`, body: <AgainstDesign chart={indexChart(parts.machine, parts.design)} /> };
  }
  if (query.with !== undefined) {
    const other = await chartScreen(kind, String(query.with));
    const changes = differences(screen.chart, other.chart).filter(({ path }) => !isOwn(path));
    return {
      title: `${screen.title} and ${other.title}`,
      body: (
        <>
          {kind === 'machine' && <p className="soft">Names, serial numbers and what was found on either are left out.</p>}
          <ChangeList changes={changes} from={screen.title} to={other.title} />
        </>
      ),
    };
  }
  const version = async (text: string | undefined) => {
    const number = /^\d{1,9}$/.test(text ?? '') ? Number(text) : notFound();
    return { number, chart: ((await getVersion(kind, id, number)) ?? notFound()).chart };
  };
  const [from, to] = [await version(query.from), await version(query.to)];
  return {
    title: `${screen.title}: version ${from.number} and ${to.number}`,
    body: <ChangeList changes={differences(from.chart, to.chart)} from={`version ${from.number}`} to={`version ${to.number}`} />,
  };
}
