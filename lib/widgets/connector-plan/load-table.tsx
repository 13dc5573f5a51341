/** The load check as a table: what each position carries, what it may, and what is lost on the way. Stored charge beneath. */
import { Fragment } from 'react';
import { dropLimitPercent } from '@/lib/core/harness/load';
import type { ConnectorPlan, LoadRow } from '@/lib/core/harness/types';
import { amount, atPosition, span } from './plan-words';

export function Load({ plan }: { plan: ConnectorPlan }) {
  const loaded = plan.loads.find((row) => row.derating)?.derating?.loaded;
  return (
    <section>
      <h3>Load</h3>
      {plan.loads.length === 0 ? (
        <p>No line of this header carries more than a signal.</p>
      ) : (
        <>
          <table className="stack">
            <thead>
              <tr>
                <th>Position</th>
                <th>Line</th>
                <th className="n">Amps</th>
                <th className="n">Rating</th>
                <th className="n">Drop</th>
              </tr>
            </thead>
            <tbody>
              {plan.loads.map((row) => (
                <LoadLine key={row.position} row={row} at={atPosition(plan, row.position)} />
              ))}
            </tbody>
          </table>
          <p className="note soft after-figure">
            Amps are r.m.s.; positions in parallel count 1.3 × their mean. The rating is the lesser of the terminal’s
            {loaded !== undefined && `, with ${loaded} ${loaded === 1 ? 'position' : 'positions'} loaded,`} and of the thinnest wire’s in a
            loom. The drop counts out and back; our limit is {dropLimitPercent} % of the line’s volts (common practice). Not known: the
            chart has no current or no length for it.
          </p>
        </>
      )}
    </section>
  );
}

function LoadLine({ row, at }: { row: LoadRow; at: string }) {
  const ratings = [row.terminalAmps, row.wireAmps].filter((a): a is number => a !== null);
  const rating = row.terminalAmps === null ? 'no terminal' : ratings.length > 0 ? amount(Math.min(...ratings), 'A') : 'none';
  const tooMuch = (row.drop?.percent ?? 0) > dropLimitPercent;
  const drop = row.drop
    ? [`${row.drop.volts.toFixed(2)} V`, row.drop.percent !== null && `${row.drop.percent.toFixed(1)} %`]
    : ['not known'];
  return (
    <tr>
      <td data-h="position">
        <b>{at}</b>
      </td>
      <td>
        {row.label}{' '}
        <span className="note soft">
          {row.wire}
          {row.sharedBy > 1 && `, one of ${row.sharedBy}`}
          {row.fuse && `, ${row.fuse.text}`}
        </span>
      </td>
      <td className="n" data-h="amps">
        {row.amps === null ? 'not known' : amount(row.amps, 'A')}
      </td>
      <td className="n" data-h="rating">
        {rating}
      </td>
      <td className="n" data-h="drop">
        {tooMuch ? <b>{drop.filter(Boolean).join(', ')}, too much</b> : drop.filter(Boolean).join(', ')}
      </td>
    </tr>
  );
}

export function StoredCharge({ plan }: { plan: ConnectorPlan }) {
  if (plan.reservoirs.length === 0) return null;
  return (
    <section>
      <h3>Stored charge within reach</h3>
      <dl className="record">
        {plan.reservoirs.map((r) => (
          <Fragment key={r.net}>
            <dt>{r.label}</dt>
            <dd>
              {r.microfarads} µF at {amount(r.volts, 'V')}, {r.flagged ? <b>{amount(r.joules, 'J')}</b> : amount(r.joules, 'J')}
              {r.bleed &&
                `; through ${r.bleed.ohms} Ω ${r.live ? `about ${span(r.bleed.toLimit)} to 42.4 V, ` : 'about '}${span(r.bleed.toFive)} to 5 V`}
            </dd>
          </Fragment>
        ))}
      </dl>
      <p className="note soft after-figure">
        {plan.reservoirs.some((r) => r.bleed)
          ? 'A time is an estimate for an intact bleeder. Measure before touching.'
          : 'The chart names no bleeder: one may hold its charge for days. Measure before touching.'}
      </p>
    </section>
  );
}
