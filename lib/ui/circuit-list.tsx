/** What a machine drives and reads beside its matrix: direct switches, driven loads by fuse and supply, strings of lamps. */
import { netTitle } from '@/lib/core/chart/names';
import type { Chart } from '@/lib/core/chart/types';
import { WireChip } from './drawings';
import { type Marks, marksInWords, marksOf } from './drawings/matrix-cell';

export interface CircuitListProps {
  chart: Chart;
  marks?: Marks;
  /** Where a switch or load leads: an address for what one would type into the lookup. */
  href: (clue: string) => string;
}
interface Row {
  key: string;
  name: string;
  nets: string[];
  notes: (string | undefined)[];
  clue?: string;
}

export function CircuitList({ chart, marks = {}, href }: CircuitListProps) {
  const noted = (number: string, note?: string) => [note, ...marksInWords(marksOf(marks, [number]))];
  const direct = chart.circuits
    .filter((c) => c.kind === 'direct')
    .map((c) => ({ key: c.number, name: c.name, nets: c.nets, notes: noted(c.number), clue: `sw ${c.number}` }));
  const loads = chart.loads.map((l) => ({
    key: l.number,
    name: l.name,
    nets: [l.net],
    notes: noted(l.number, l.name.toLowerCase().includes(l.kind) ? undefined : l.kind),
    clue: `load ${l.number}`,
    feed: feedWords(chart, l.fuse, l.supply),
  }));
  const strings = chart.illumination.map((g) => ({
    key: g.id,
    name: g.name,
    nets: [g.net, g.back],
    notes: [`${g.lamps} lamps`, feedWords(chart, g.fuse, g.net)],
  }));
  const shared = { chart, href };
  return (
    <div className="beneath">
      <Table title="Direct switches" groups={[{ head: '', rows: direct }]} {...shared} />
      <Table
        title="Driven loads"
        groups={[...new Set(loads.map((l) => l.feed))].map((feed) => ({ head: feed, rows: loads.filter((l) => l.feed === feed) }))}
        {...shared}
      />
      <Table title="General illumination" groups={[{ head: '', rows: strings }]} {...shared} />
    </div>
  );
}

/** "F3, 4 A slow: Coil supply, 52 V". */
function feedWords(chart: Chart, fuse: string | undefined, supply: string): string {
  const net = chart.nets.get(supply);
  const volts = net?.volts === undefined ? '' : `, ${net.volts} V${net.supply === 'ac' ? ' a.c.' : ''}`;
  return `${fuse ?? net?.fuse ?? 'No fuse on the chart'}: ${netTitle(chart, supply)}${volts}`;
}

interface TableProps {
  title: string;
  groups: { head: string; rows: Row[] }[];
  chart: Chart;
  href: (clue: string) => string;
}

function Table({ title, groups, chart, href }: TableProps) {
  if (groups.every((g) => g.rows.length === 0)) return null;
  return (
    <section>
      <h3 className="table-head">{title}</h3>
      <table className="stack circuits">
        <thead>
          <tr>
            <th>No.</th>
            <th>Name</th>
            <th>Wire</th>
            <th>Pins</th>
          </tr>
        </thead>
        {groups.map(({ head, rows }) => (
          <tbody key={head}>
            {head && (
              <tr className="feed">
                <th scope="rowgroup" colSpan={4}>
                  {head}
                </th>
              </tr>
            )}
            {rows.map((row) => (
              <Line key={row.key} row={row} chart={chart} href={href} />
            ))}
          </tbody>
        ))}
      </table>
    </section>
  );
}

function Line({ row, chart, href }: { row: Row } & Pick<TableProps, 'chart' | 'href'>) {
  return (
    <tr>
      <td className="mono">{row.clue ? <a href={href(row.clue)}>{row.key}</a> : row.key}</td>
      <td>
        {row.name} <span className="soft">{row.notes.filter(Boolean).join(', ')}</span>
      </td>
      <td>
        {row.nets.map((net) => (
          <span key={net} className="circuit-wire">
            {chart.nets.has(net) ? <WireChip colour={chart.nets.get(net)?.colour ?? ''} /> : net}
          </span>
        ))}
      </td>
      <td className="mono">
        {row.nets
          .flatMap((net) => chart.taps.get(net) ?? [])
          .map(({ pin }) => (
            <span key={pin} className="circuit-pin">
              {pin}
            </span>
          ))}
      </td>
    </tr>
  );
}
