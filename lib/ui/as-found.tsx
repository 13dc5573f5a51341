/** Where a machine differs from its manual: both answers, why, when it was seen and by whom. */
import { isStanding } from '@/lib/core/chart/found';
import { netTitle } from '@/lib/core/chart/names';
import type { Deviation } from '@/lib/core/chart/schema';
import type { Chart } from '@/lib/core/chart/types';
import { WireChip } from './drawings';
import { FoundPhoto } from './found-photo';
import { day, seenWords } from './words';

/** "44 Right sling", "A1J2-5" or "Row 4": the narrowest place that the deviation names. */
export function placeWords(chart: Pick<Chart, 'circuit' | 'nets'>, { place }: Deviation): string {
  if (place.switch !== undefined) return [place.switch, chart.circuit.get(place.switch)?.name].filter(Boolean).join(' ');
  return place.pin ?? (place.net === undefined ? '' : netTitle(chart, place.net));
}

/** Those that stand, and folded beneath those that were withdrawn. Who may write can withdraw each. */
export function AsFound({ chart, ...rest }: { chart: Chart; mayWrite: boolean; removed?: ReadonlySet<string> }) {
  const gone = chart.machine.asFound.filter((d) => !isStanding(d));
  return (
    <>
      {chart.asFound.length > 0 ? (
        <>
          <p className="soft">Where this machine differs from its manual. Lookups, plans and bench sheets show both.</p>
          <Table chart={chart} found={chart.asFound} {...rest} />
        </>
      ) : (
        <p className="soft">Nothing was found that differs from the manual. </p>
      )}
      {gone.length > 0 && (
        <details className="as-table">
          <summary>{gone.length} withdrawn</summary>
          <Table chart={chart} found={gone} {...rest} mayWrite={false} />
        </details>
      )}
    </>
  );
}

interface TableProps {
  chart: Chart;
  found: readonly Deviation[];
  mayWrite: boolean;
  removed?: ReadonlySet<string>; // pictures that were removed for good
}
function Table({ chart, found, mayWrite, removed }: TableProps) {
  return (
    <table className="asfound">
      <thead>
        <tr>
          <th>Where</th>
          <th>Manual says</th>
          <th>This machine has</th>
          <th>Why, and who saw it</th>
        </tr>
      </thead>
      <tbody>
        {found.map((d) => (
          <tr key={d.id} id={`found-${d.id}`}>
            <td>
              <b>{placeWords(chart, d)}</b>
            </td>
            <td data-h="manual">{d.manual}</td>
            <td data-h="here">
              {d.here} {d.wire && <WireChip colour={d.wire} />}
              <FoundPhoto found={d} removed={d.photo !== undefined && removed?.has(d.photo)} />
            </td>
            <td className="asfound-why">
              {seenWords(d)}
              {d.withdrawn && (
                <span className="soft">
                  {' '}
                  Withdrawn: {d.withdrawn.why} {d.withdrawn.by}, {day(d.withdrawn.on)}
                </span>
              )}
              {mayWrite && (
                <a className="no-print row-link" href={`/machines/${chart.machine.id}/found/${encodeURIComponent(d.id)}`}>
                  {d.photo ? 'Its photo, or withdraw it' : 'Add a photo, or withdraw it'}
                </a>
              )}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
