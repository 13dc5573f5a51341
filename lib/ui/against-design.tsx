/** A machine and its board design: what the board offers and nobody uses, what the machine needs and the board lacks, what was found. */
import { againstDesign } from '@/lib/core/chart/against-design';
import type { Chart } from '@/lib/core/chart/types';
import { AsFound } from './as-found';
import { WireChip } from './drawings';
import { listed } from './words';

export function AgainstDesign({ chart }: { chart: Chart }) {
  const { unused, missing, cells, keys } = againstDesign(chart);
  const at = (positions: number[]) => (positions.length > 0 ? `at ${listed(positions)}` : 'none');
  return (
    <>
      <p className="lead">
        {cells.filled} of {cells.of} cells of the switch matrix have a switch. Board design{' '}
        <a href={`/designs/${chart.design.id}`}>{chart.design.id}</a>.
      </p>
      <h2 className="section-head">Used here, not on the design</h2>
      {missing.length === 0 ? (
        <p className="soft">Nothing: every line that the machine uses is on the design.</p>
      ) : (
        <ul className="ruled">
          {missing.map(({ what, net }) => (
            <li key={`${what} ${net}`}>
              <span />
              <b>{what}</b>
              <span className="mono">{net}</span>
            </li>
          ))}
        </ul>
      )}
      <h2 className="section-head">On the design, not used here</h2>
      {unused.length === 0 ? (
        <p className="soft">Nothing: every line has something on it.</p>
      ) : (
        <ul className="unused-lines">
          {unused.map(({ net, title, colour }) => (
            <li key={net}>
              <b>{title}</b> <WireChip colour={colour} />
            </li>
          ))}
        </ul>
      )}
      <h2 className="section-head">Keys found otherwise</h2>
      {keys.length === 0 ? (
        <p className="soft">None: as far as anybody looked, keys are as the design has them.</p>
      ) : (
        <table className="stack">
          <thead>
            <tr>
              <th>Header</th>
              <th>Design</th>
              <th>Pins here</th>
              <th>Plug here</th>
            </tr>
          </thead>
          <tbody>
            {keys.map((k) => (
              <tr key={k.header}>
                <td className="mono">{k.header}</td>
                <td data-h="design">{at(k.chart)}</td>
                <td data-h="pins here">{at(k.pins)}</td>
                <td data-h="plug here">{at(k.plug)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      <h2 className="section-head">As found</h2>
      <AsFound chart={chart} mayWrite={false} />
    </>
  );
}
