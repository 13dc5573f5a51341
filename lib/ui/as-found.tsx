/** Where a machine differs from its manual: both answers, when it was seen and by whom. */
import type { Deviation } from '@/lib/core/chart/schema';
import type { Chart } from '@/lib/core/chart/types';
import { WireChip } from './drawings';
import { day } from './words';

/** "44 Right sling, Row 4", as far as the deviation names it. */
export function placeWords({ circuit }: Pick<Chart, 'circuit'>, { place }: Deviation): string {
  if (place.switch !== undefined) return [place.switch, circuit.get(place.switch)?.name].filter(Boolean).join(' ');
  return place.pin ?? place.net ?? '';
}

export function AsFoundTable({ chart, found }: { chart: Chart; found: readonly Deviation[] }) {
  return (
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
        {found.map((d) => (
          <tr key={d.id}>
            <td>
              <b>{placeWords(chart, d)}</b>
            </td>
            <td data-h="manual">{d.manual}</td>
            <td data-h="here">
              {d.here} {d.wire && <WireChip colour={d.wire} />}
            </td>
            <td>{d.why}</td>
            <td className="note">
              {d.by}, {day(d.on)}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
