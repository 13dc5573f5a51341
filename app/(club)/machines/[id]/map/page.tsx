/** The map alone, for the bench wall: it prints on one sheet, the lamp matrix on a second. */
import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { indexChart } from '@/lib/core/chart';
import { picturesOfChart } from '@/lib/core/chart/pinned';
import { circuitPages } from '@/lib/search/recent';
import { getChartParts } from '@/lib/store/machines';
import { removedAmong } from '@/lib/store/picture-holders';
import { Beneath, LampMap, SwitchMap, shownOnPhotos } from '@/lib/ui/machine-map';
import { Entry } from '@/lib/ui/shell';
import { requireMember } from '../../../../member';
import { mapMarks } from '../../../charts/photos';
import { Frame } from '../../../frame';

type Props = { params: Promise<{ id: string }> };

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  const parts = await getChartParts((await params).id);
  return { title: parts ? `Map of ${[parts.machine.name, parts.machine.unit].filter(Boolean).join(', ')}` : 'No such machine' };
}

export default async function MapPage({ params }: Props) {
  const { id } = await params;
  const member = await requireMember(`/machines/${id}/map`);
  const parts = await getChartParts(id);
  if (!parts) notFound();
  const chart = indexChart(parts.machine, parts.design);
  const { shown, shownLamps } = shownOnPhotos(chart, await removedAmong([parts.machine, parts.design].flatMap(picturesOfChart)));
  const marks = { ...mapMarks(chart, await circuitPages(id)), shown };
  return (
    <Frame member={member} here="Machines" title={`Map of ${chart.title}`}>
      <Entry>
        <div className="map-sheet">
          <h1>{chart.title}</h1>
          <p className="sub">
            <span>
              Board design <b className="mono">{chart.design.id}</b>
            </span>
            <a className="no-print" href={`/machines/${id}`}>
              Everything about it
            </a>
          </p>
          <h2>Switch matrix</h2>
          <SwitchMap chart={chart} marks={marks} />
          <Beneath chart={chart} marks={marks} />
        </div>
        {chart.lamps.length > 0 && (
          <div className="map-sheet">
            <h2>Lamp matrix</h2>
            <LampMap chart={chart} marks={marks} shownLamps={shownLamps} />
          </div>
        )}
      </Entry>
    </Frame>
  );
}
