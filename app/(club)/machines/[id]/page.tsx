import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { chartFiles } from '@/app/chart-file';
import { findingsIn } from '@/app/findings';
import { can } from '@/lib/access/can';
import { indexChart } from '@/lib/core/chart';
import { keyOf, photosOf, picturesOfChart } from '@/lib/core/chart/pinned';
import { positionLabel } from '@/lib/core/chart/positions';
import { positionsWords } from '@/lib/core/harness/pin-rows';
import { lookup } from '@/lib/core/lookup';
import { progressOf } from '@/lib/search/dependents';
import { circuitPages, recentPages } from '@/lib/search/recent';
import { getChartParts } from '@/lib/store/machines';
import { removedAmong } from '@/lib/store/picture-holders';
import { AsFound } from '@/lib/ui/as-found';
import { ChartFiles } from '@/lib/ui/chart-files';
import { ChartFindings } from '@/lib/ui/chart-findings';
import { CircuitPages } from '@/lib/ui/circuit-pages';
import { ComputingAgain } from '@/lib/ui/computing-again';
import { FlagForm } from '@/lib/ui/flag-form';
import { HeaderFigure } from '@/lib/ui/header-figure';
import { InLine } from '@/lib/ui/in-line';
import { Beneath, hasBeneath, LampMap, SwitchMap, shownOnPhotos } from '@/lib/ui/machine-map';
import { PaperLinks } from '@/lib/ui/paper-links';
import { Entry, LinkButton, Widget } from '@/lib/ui/shell';
import { pinnedAs } from '@/lib/ui/shown-on-photo';
import { day } from '@/lib/ui/words';
import { Result } from '@/lib/widgets/circuit-lookup/result';
import { requireMember } from '../../../member';
import { askOf, mapMarks, PhotoStrip } from '../../charts/photos';
import { Frame } from '../../frame';

type Props = {
  params: Promise<{ id: string }>;
  searchParams: Promise<{ circuit?: string; header?: string; clue?: string; pick?: string }>;
};

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  const parts = await getChartParts((await params).id);
  return { title: parts ? [parts.machine.name, parts.machine.unit].filter(Boolean).join(', ') : 'No such machine' };
}

export default async function MachinePage({ params, searchParams }: Props) {
  const { id } = await params;
  const query = await searchParams;
  const member = await requireMember(`/machines/${id}`);
  const parts = await getChartParts(id);
  if (!parts) notFound();
  const chart = indexChart(parts.machine, parts.design);
  const clue = (query.circuit ? `sw ${query.circuit}` : (query.header ?? query.clue ?? '')).slice(0, 200);
  const found = clue ? lookup(chart, clue, query.pick) : null;
  const [findings, open, mended, byCircuit, progress] = await Promise.all([
    findingsIn(parts.design, parts.machine),
    recentPages({ machine: id, state: 'open', limit: 20 }),
    recentPages({ machine: id, state: 'mended', limit: 50 }),
    circuitPages(id),
    progressOf('machine', id),
  ]);
  const pages = [...open, ...mended];
  const mayWrite = can(member, 'write', 'machine');
  const answer = found?.outcome === 'one' ? found : null;
  const lit = answer?.circuit?.circuit.number;
  const removed = await removedAmong([parts.machine, parts.design].flatMap(picturesOfChart));
  const { shown, shownLamps } = shownOnPhotos(chart, removed);
  const marks = mapMarks(chart, byCircuit);
  const map = {
    chart,
    marks: { ...marks, shown, lit },
    litLamp: answer?.candidate.kind === 'lamp' ? answer.candidate.id : undefined,
    shownLamps,
  };
  const photos = photosOf(chart);
  const pinned = answer && pinnedAs(answer.candidate);
  const about = lit ?? (answer?.candidate.kind === 'load' ? answer.candidate.id : undefined);
  const margin = (
    <>
      <h4>This machine</h4>
      <ul>
        {chart.machine.serial && (
          <li>
            Serial <span className="mono">{chart.machine.serial}</span>
          </li>
        )}
        <li>
          Boards <span className="mono">{chart.design.boards.map((b) => b.designator).join(', ')}</span>
        </li>
        <li>
          Board design{' '}
          <a className="mono" href={`/designs/${chart.design.id}`}>
            {chart.design.id}
          </a>
        </li>
        <li>{numberingWords[chart.machine.numbering.order]}</li>
      </ul>
      <h4>Open here</h4>
      <ul>
        {open.map((p) => (
          <li key={p.id}>
            <a href={`/pages/${p.id}`}>{p.title}</a>
          </li>
        ))}
        {open.length === 0 && <li className="soft">Nothing</li>}
      </ul>
    </>
  );
  return (
    <Frame member={member} here="Machines" title={chart.title} margin={margin} bar={`${open.length} open, ${mended.length} past fixes`}>
      <Entry>
        <h1>{chart.title}</h1>
        <p className="sub">
          <span>{chart.machine.sort}</span>
          {chart.design.boards.map((b) => (
            <span key={b.designator}>
              {b.name} <b className="mono">{b.designator}</b>
            </span>
          ))}
          {chart.machine.since && <span>In the club since {chart.machine.since}</span>}
        </p>
        <p className="actions">
          {can(member, 'create', 'page') && (
            <LinkButton href={`/pages/new?machine=${id}`} fill>
              Start a page for it
            </LinkButton>
          )}
          {mayWrite && <LinkButton href={`/machines/${id}/enter`}>Enter circuits</LinkButton>}
          <LinkButton href={`/machines/${id}/versions`}>Versions, compare, copy</LinkButton>
        </p>
        <ComputingAgain machine={id} progress={progress} />
        <ChartFindings findings={findings} />
        <Widget title="Ask this machine" id="ask">
          <form className="ask" action={`/machines/${id}`}>
            <label htmlFor="machine-clue">Number, name, colours or pin</label>
            <input id="machine-clue" name="clue" defaultValue={clue} maxLength={200} />
            <button type="submit" className="btn">
              Look up
            </button>
          </form>
          {found && (
            <Result
              id="machine"
              result={found}
              chart={chart}
              removed={[...removed]}
              picked={false}
              link={(pick) => `/machines/${id}?clue=${encodeURIComponent(clue)}&pick=${encodeURIComponent(pick)}#ask`}
            />
          )}
          {answer && mayWrite && (
            <p className="actions no-print">
              <LinkButton
                href={`/machines/${id}/found?${new URLSearchParams({ clue: `${answer.candidate.kind}:${answer.candidate.id}` })}`}
              >
                It is otherwise here
              </LinkButton>
            </p>
          )}
          {about !== undefined && <CircuitPages number={about} pages={byCircuit.get(about) ?? []} />}
        </Widget>
        <Widget
          title="Switch matrix"
          id="matrix"
          tools={
            <a className="no-print" href={`/machines/${id}/map`}>
              Map to print
            </a>
          }
        >
          <SwitchMap {...map} />
          {chart.machine.switches.length > 0 && <PaperLinks label="Map as PDF" href={`/machines/${id}/map.pdf`} />}
        </Widget>
        {chart.lamps.length > 0 && (
          <Widget title="Lamp matrix" id="lamps">
            <LampMap {...map} />
          </Widget>
        )}
        {hasBeneath(chart) && (
          <Widget title="Beside the matrix" id="rest">
            <Beneath {...map} />
          </Widget>
        )}
        <Widget title="On photos" id="photos" tools={mayWrite && <LinkButton href={`/machines/${id}/photos/add`}>Add a photo</LinkButton>}>
          <PhotoStrip
            photos={photos}
            marks={marks}
            removed={removed}
            href={askOf(id)}
            path={`/machines/${id}`}
            design={chart.design.id}
            lit={pinned ? keyOf(pinned) : undefined}
            mayWrite={mayWrite}
          />
        </Widget>
        <Widget
          title="As found"
          id="as-found"
          tools={mayWrite && <LinkButton href={`/machines/${id}/found`}>Note a difference</LinkButton>}
        >
          <AsFound chart={chart} mayWrite={mayWrite} removed={removed} />
        </Widget>
        <Widget title="Connectors" id="connectors">
          <p className="soft">
            Shared by every machine with board design <span className="mono">{chart.design.id}</span>.
          </p>
          {chart.design.headers.map((h) => (
            <details key={h.id} className="header-fold" open={query.header === h.id}>
              <summary>
                <b className="mono">{h.id}</b> {h.name}{' '}
                <span className="soft">
                  {positionsWords(h)}, {h.pitchMm} mm
                  {h.keys.length > 0 && `, key at ${h.keys.map((key) => positionLabel(h, key) || key).join(' and ')}`}
                </span>
              </summary>
              <HeaderFigure chart={chart} header={h.id} idPrefix={`h-${h.id}`} />
            </details>
          ))}
          <FlagForm chart={chart} />
          {chart.inline.size > 0 && <InLine chart={chart} open={query.header} />}
        </Widget>
        <Widget title="Pages" id="pages">
          {pages.length === 0 ? (
            <p className="soft">None yet. A page is one job on this machine: what was wrong, what was done, and how it was proved.</p>
          ) : (
            <ul className="rows">
              {pages.map((p) => (
                <li key={p.id}>
                  <a href={`/pages/${p.id}`}>
                    <b>{p.title}</b>
                    <span className="soft">{p.line}</span>
                  </a>
                  <span className="soft">{day(p.on)}</span>
                  <span>{p.state === 'open' ? 'open' : 'mended'}</span>
                </li>
              ))}
            </ul>
          )}
        </Widget>
        <ChartFiles base={`/machines/${id}`} files={chartFiles(parts)} archive={`/machines/${id}/archive`} />
      </Entry>
    </Frame>
  );
}

const numberingWords = {
  'column-row': 'Numbers are column, then row',
  'row-column': 'Numbers are row, then column',
  'down-columns': 'Numbers run down the columns',
  'along-rows': 'Numbers run along the rows',
} as const;
