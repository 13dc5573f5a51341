/** The state of the wire ends, and the pigtails that mend what fits no terminal or has grown too short. */
import type { ConnectorPlan, Pigtail, PlanRow } from '@/lib/core/harness/types';
import { Field } from '@/lib/ui/controls';
import { wiresInWords } from '@/lib/ui/drawings';
import type { WidgetActions } from '../definition';
import { atPosition, pigtailWords } from './plan-words';

type Offered = PlanRow & { pigtail: Pigtail };

export function WireEnds({ id, plan, act }: { id: string; plan: ConnectorPlan; act?: WidgetActions }) {
  const offered = plan.rows.filter((row): row is Offered => row.pigtail !== null);
  const shown = offered.filter(({ pigtail }) => pigtail.chosen || pigtail.why !== 'length');
  const others = offered.filter((row) => !shown.includes(row));
  return (
    <section>
      <h3>Wire ends</h3>
      <p>
        Cut back to bright strands: black ones do not crimp, and a tinned end works loose. Count on 10 to 20 mm. Where so much is not loose,
        or no terminal takes the wire, it goes on a pigtail, spliced outside the housing.
      </p>
      {shown.length > 0 && (
        <ul className="problems after-figure">
          {shown.map((row) => (
            <li key={row.position}>
              <PigtailChoice id={id} row={row} at={atPosition(plan, row.position)} act={act} />
            </li>
          ))}
        </ul>
      )}
      {act && others.length > 0 && (
        <div className="fields">
          <Field id={`${id}-short`} label="A pigtail for a wire that is too short">
            {(control) => (
              <select {...control} value="" onChange={(event) => event.target.value && act.set(`pigtail.${event.target.value}`, true)}>
                <option value="">None</option>
                {others.map((row) => (
                  <option key={row.position} value={row.position}>
                    {atPosition(plan, row.position)}, {wiresInWords(row.wires)}
                  </option>
                ))}
              </select>
            )}
          </Field>
        </div>
      )}
    </section>
  );
}

function PigtailChoice({ id, row, at, act }: { id: string; row: Offered; at: string; act?: WidgetActions }) {
  const { position, pigtail } = row;
  const title = `Position ${at}, ${wiresInWords(row.wires)}`;
  const words = pigtailWords(pigtail);
  if (!act) {
    return (
      <>
        <b>
          {title}: {pigtail.chosen ? 'on a pigtail' : 'a pigtail is proposed'}
        </b>
        <span>{words}</span>
      </>
    );
  }
  return (
    <label className="check" htmlFor={`${id}-pigtail-${position}`}>
      <input
        id={`${id}-pigtail-${position}`}
        type="checkbox"
        checked={pigtail.chosen}
        onChange={(event) => act.set(`pigtail.${position}`, event.target.checked)}
      />
      <span>
        <b>{title}: use a pigtail</b>
        <span>{words}</span>
      </span>
    </label>
  );
}
