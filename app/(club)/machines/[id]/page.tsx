import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { chartFiles } from '@/app/chart-file';
import { findingsIn } from '@/app/findings';
import { can } from '@/lib/access/can';
import { indexChart } from '@/lib/core/chart';
import { positionLabel } from '@/lib/core/chart/positions';
import { positionsWords } from '@/lib/core/harness/pin-rows';
import { lookup } from '@/lib/core/lookup';
import { pageMarks, recentPages } from '@/lib/search/recent';
import { getChartParts } from '@/lib/store/machines';
import { ChartFiles } from '@/lib/ui/chart-files';
import { ChartFindings } from '@/lib/ui/chart-findings';
import { MatrixMap, WireChip } from '@/lib/ui/drawings';
import { HeaderFigure } from '@/lib/ui/header-figure';
import { Entry, LinkButton, Widget } from '@/lib/ui/shell';
import { day } from '@/lib/ui/words';
import { Result } from '@/lib/widgets/circuit-lookup/result';
import { requireMember } from '../../../member';
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
  const [findings, open, mended, marks] = await Promise.all([
    findingsIn(parts.design, parts.machine),
    recentPages({ machine: id, state: 'open', limit: 20 }),
    recentPages({ machine: id, state: 'mended', limit: 50 }),
    pageMarks(id),
  ]);
  const lit = found?.outcome === 'one' && found.circuit ? found.circuit.circuit.number : undefined;
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
          Board design <span className="mono">{chart.design.id}</span>
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
        {can(member, 'create', 'page') && (
          <p className="actions">
            <LinkButton href={`/pages/new?machine=${id}`} fill>
              Start a page for it
            </LinkButton>
            {can(member, 'write', 'machine') && <LinkButton href={`/machines/${id}/enter`}>Enter circuits</LinkButton>}
          </p>
        )}
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
              picked={false}
              link={(pick) => `/machines/${id}?clue=${encodeURIComponent(clue)}&pick=${encodeURIComponent(pick)}#ask`}
            />
          )}
        </Widget>
        <Widget title="Switch matrix" id="matrix">
          <MatrixMap
            chart={chart}
            idPrefix="map"
            lit={lit}
            open={marks.open}
            past={marks.past}
            found={foundNumbers(chart.asFound.map((d) => d.place.switch))}
            href={(n) => `/machines/${id}?circuit=${encodeURIComponent(n)}#ask`}
          />
        </Widget>
        {chart.asFound.length > 0 && (
          <Widget title="As found" id="as-found">
            <p className="soft">Where this machine differs from its manual. The lookup shows both answers.</p>
            <table className="asfound">
              <thead>
                <tr>
                  <th>Where</th>
                  <th>Manual says</th>
                  <th>This machine has</th>
                  <th>Why</th>
                  <th>Seen</th>
                </tr>
              </thead>
              <tbody>
                {chart.asFound.map((d) => (
                  <tr key={d.id}>
                    <td>
                      <b>
                        {d.place.switch
                          ? `${d.place.switch} ${chart.circuit.get(d.place.switch)?.name ?? ''}`
                          : (d.place.pin ?? d.place.net)}
                      </b>
                    </td>
                    <td data-h="manual">{d.manual}</td>
                    <td data-h="here">{d.wire ? <WireChip colour={d.wire} /> : d.here}</td>
                    <td>{d.why}</td>
                    <td className="note">
                      {d.by}, {day(d.on)}
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
          </Widget>
        )}
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
        </Widget>
        <Widget title="Everything else it drives and reads" id="rest">
          <Circuits
            title="Direct switches"
            rows={chart.circuits.filter((c) => c.kind === 'direct').map((c) => ({ key: c.number, name: c.name, net: c.nets[0] ?? '' }))}
            chart={chart}
          />
          <Circuits
            title="Driven loads"
            rows={chart.loads.map((l) => ({
              key: l.number,
              name: l.name,
              net: l.net,
              note: [l.name.toLowerCase().includes(l.kind) ? '' : l.kind, l.fuse && `fuse ${l.fuse}`].filter(Boolean).join(', '),
            }))}
            chart={chart}
          />
          <Circuits
            title="General illumination"
            rows={chart.illumination.map((g) => ({
              key: g.id,
              name: g.name,
              net: g.net,
              note: `${g.lamps} lamps${g.fuse ? `, fuse ${g.fuse}` : ''}`,
            }))}
            chart={chart}
          />
          <Lamps chart={chart} />
        </Widget>
        <Widget title="Pages" id="pages">
          <ul className="rows">
            {[...open, ...mended].map((p) => (
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
        </Widget>
        <ChartFiles base={`/machines/${id}`} files={chartFiles(parts)} />
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

const foundNumbers = (list: (string | undefined)[]) => list.filter((n): n is string => n !== undefined);

function Circuits({
  title,
  rows,
  chart,
}: {
  title: string;
  rows: { key: string; name: string; net: string; note?: string }[];
  chart: ReturnType<typeof indexChart>;
}) {
  if (rows.length === 0) return null;
  return (
    <>
      <h3 className="table-head">{title}</h3>
      <table className="stack">
        <thead>
          <tr>
            <th>No.</th>
            <th>Name</th>
            <th>Wire</th>
            <th>Pins</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((r) => (
            <tr key={r.key}>
              <td className="mono">{r.key}</td>
              <td>
                {r.name} {r.note && <span className="soft">{r.note}</span>}
              </td>
              <td>{chart.nets.get(r.net) ? <WireChip colour={chart.nets.get(r.net)?.colour ?? ''} /> : r.net}</td>
              <td className="mono">{(chart.taps.get(r.net) ?? []).map((t) => t.pin).join(', ')}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </>
  );
}

function Lamps({ chart }: { chart: ReturnType<typeof indexChart> }) {
  if (chart.lamps.length === 0) return null;
  return (
    <details>
      <summary>Lamp matrix, {chart.lamps.length} lamps</summary>
      <table className="stack">
        <thead>
          <tr>
            <th>No.</th>
            <th>Name</th>
            <th>Column</th>
            <th>Row</th>
          </tr>
        </thead>
        <tbody>
          {chart.lamps.map((l) => (
            <tr key={l.number}>
              <td className="mono">{l.number}</td>
              <td>{l.name}</td>
              {(['column', 'row'] as const).map((axis) => {
                const net = chart.nets.get(`lamp-${axis}.${l[axis]}`);
                return <td key={axis}>{net ? <WireChip colour={net.colour} /> : l[axis]}</td>;
              })}
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  );
}
