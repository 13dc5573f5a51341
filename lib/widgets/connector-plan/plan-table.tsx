/** The plan itself: the housing runs down the page at its wire entry, one row a position, each wire running into its own row. */
import type { ConnectorPlan, PlanRow } from '@/lib/core/harness/types';
import { TickBox, whoAndWhen } from '@/lib/ui/blocks';
import { PlanSlice, WireChip, wiresInWords } from '@/lib/ui/drawings';
import type { WidgetActions } from '../definition';
import type { Model } from './definition';
import { atPosition, gaugeWords, hasWire } from './plan-words';

export function PlanTable({ plan, model, act }: { plan: ConnectorPlan; model: Model; act?: WidgetActions }) {
  const relabelled = plan.rows.some((row) => atPosition(plan, row.position) !== String(row.position));
  const begun = Object.keys(model.seated).length > 0;
  const now = begun ? plan.rows.find((row) => hasWire(row) && !(model.seated[row.position] && model.tugged[row.position])) : undefined;
  return (
    <figure>
      <table className="plan">
        <thead>
          <tr className="headrow">
            <th className="pos">Pin</th>
            <th className="seen">Wire entry</th>
            <th className="cname">Wire</th>
            <th className="to">Goes to</th>
            <th className="t">Seated</th>
            <th className="t">Tugged</th>
          </tr>
        </thead>
        <tbody>
          {plan.rows.map((row, k) => (
            <Row
              key={row.position}
              plan={plan}
              row={row}
              first={k === 0}
              last={k === plan.rows.length - 1}
              now={row === now}
              model={model}
              act={act}
            />
          ))}
        </tbody>
      </table>
      <figcaption>
        {plan.half
          ? `${plan.half.title}, seen at the wire entry, position 1 at the top; ${plan.half.mate} runs the other way from left to right.`
          : `Housing ${plan.housingName} seen at the wire entry, as it sits on the board, position 1 at the top.`}{' '}
        A wire that is seated clicks; a tug by hand must not move it.
        {plan.header.rows === 2 && ' It has two rows: where each position lies, the views below show.'}
        {relabelled && ' Small figures count the positions as the steps do; the others are what the chart prints.'}
      </figcaption>
    </figure>
  );
}

interface RowProps {
  plan: ConnectorPlan;
  row: PlanRow;
  first: boolean;
  last: boolean;
  now: boolean;
  model: Model;
  act?: WidgetActions;
}

function Row({ plan, row, first, last, now, model, act }: RowProps) {
  const n = row.position;
  const at = atPosition(plan, n);
  const wired = hasWire(row);
  const bad = row.problems.find((p) => p.level === 'error');
  const seated = model.seated[n];
  const tugged = model.tugged[n];
  const to = row.key ? 'Stays empty' : row.goesTo;
  const note = bad ? bad.mend : now ? `now${seated ? `, seated by ${whoAndWhen(seated)}` : ''}` : '';
  const tickable = row.key || (wired && row.terminal !== null);
  return (
    <tr className={`planrow${now ? ' now' : ''}${bad ? ' bad' : ''}`} data-wire={row.wires[0]?.colour}>
      <th scope="row" className="pos">
        {at}
        {at !== String(n) && <small>{n}</small>}
      </th>
      <td className="seen">
        <div className="slice-box">
          <PlanSlice colours={row.wires.map((w) => w.colour)} keyed={row.key} first={first} last={last} />
        </div>
        <span className="sr">{row.key ? 'key, crossed' : wired ? 'wire' : 'free'}</span>
      </td>
      <td className="cname">
        <b className={wired ? undefined : 'soft'}>{row.key ? 'key' : wired ? wiresInWords(row.wires) : 'not used'}</b>
        {row.found && (
          <small className="found-wires">
            found here{' '}
            {row.found.map((colour) => (
              <WireChip key={colour} colour={colour} />
            ))}
          </small>
        )}
        <small className={bad ? 'bad-note' : undefined}>{bad ? bad.message : gaugeWords(row)}</small>
        <small className="to-narrow">
          {[to, note].filter(Boolean).join('; ')} {row.terminal && <span className="mono">{row.terminal.part}</span>}
        </small>
      </td>
      <td className="to">
        {to}
        <small>
          {row.terminal && (
            <>
              <span className="mono">{row.terminal.part}</span>, strip {row.terminal.stripMm} mm
            </>
          )}
          {note && `${row.terminal ? '; ' : ''}${note}`}
        </small>
      </td>
      <td className="t">
        {tickable && (
          <TickBox
            label={row.key ? `Keying plug in ${at}` : `Position ${at} seated`}
            tick={seated}
            onTick={act && ((on) => act.tick(`seat.${n}`, on))}
          />
        )}
      </td>
      <td className="t">
        {tickable && !row.key && (
          <TickBox label={`Position ${at} tugged`} tick={tugged} onTick={act && ((on) => act.tick(`tug.${n}`, on))} />
        )}
      </td>
    </tr>
  );
}
