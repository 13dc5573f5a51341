/** Parts tally: what the page needs against what is on the shelf, and what to order. */
import type { Tally } from '@/lib/core/parts/schema';
import { newId } from '@/lib/notebook/ids';
import { Empty, Widget } from '@/lib/ui/blocks';
import { Button } from '@/lib/ui/controls';
import { Holders } from '@/lib/ui/holders';
import { listed, money } from '@/lib/ui/words';
import type { WidgetActions, WidgetViewProps } from '../definition';
import type { Model, TypedLine } from './definition';

export function View({ id, model, act }: WidgetViewProps<Model>) {
  return (
    <Widget title="Parts for this page">
      {model.tally.lines.length === 0 ? (
        <Empty title="Nothing needed yet">
          Parts of a connector plan and of a fix record come here by themselves; anything else can be typed.
        </Empty>
      ) : (
        <Lines tally={model.tally} />
      )}
      {act && <Typed lines={model.lines} act={act} />}
      {act && <Add id={id} choices={model.choices} act={act} />}
    </Widget>
  );
}

function Lines({ tally }: { tally: Tally }) {
  const cost = (pence: number | null) => (pence === null ? 'no price' : money(pence, tally.currency));
  return (
    <table className="stack">
      <thead>
        <tr>
          <th>Part</th>
          <th>Ours</th>
          <th className="n">Needed</th>
          <th className="n">In stock</th>
          <th className="n">Reserved</th>
          <th className="n">Short</th>
          <th className="n">To order</th>
          <th className="n">Cost</th>
        </tr>
      </thead>
      <tbody>
        {tally.lines.map((line) => (
          <tr key={line.part ?? line.name}>
            <td>
              {line.name}
              <span className="note soft row-note">
                {[listed(line.from), line.place, line.used > 0 && `${line.used} taken already`, ...line.notes].filter(Boolean).join('; ')}
                {line.elsewhere > 0 && (
                  <span className="row-note">
                    {line.elsewhere} reserved for other jobs: <Holders holders={line.holders} />
                  </span>
                )}
              </span>
            </td>
            <td className="mono">{line.part}</td>
            <td className="n" data-h="needed">
              {line.needed}
            </td>
            <td className="n" data-h="in stock">
              {line.onHand ?? 'not kept'}
              {line.onHand !== null && line.elsewhere > 0 && (
                <span className="note soft row-note">{Math.max(0, line.onHand - line.elsewhere)} free</span>
              )}
            </td>
            <td className="n" data-h="reserved">
              {line.onHand === null ? '' : line.reserved}
            </td>
            <td className="n" data-h="short">
              {line.short > 0 && line.onHand !== null ? <b>{line.short}</b> : ''}
            </td>
            <td className="n" data-h="to order">
              {line.toOrder > 0 ? <b>{line.toOrder}</b> : line.onHand === null ? '' : 'none'}
            </td>
            <td className="n" data-h="cost">
              {line.toOrder > 0 ? cost(line.costPence) : ''}
            </td>
          </tr>
        ))}
      </tbody>
      <tfoot>
        <tr>
          <td colSpan={7}>
            To order
            {tally.unpriced > 0 && (
              <span className="soft">
                , without {tally.unpriced} that {tally.unpriced === 1 ? 'has' : 'have'} no price
              </span>
            )}
          </td>
          <td className="n">{money(tally.orderPence, tally.currency)}</td>
        </tr>
      </tfoot>
    </table>
  );
}

function Typed({ lines, act }: { lines: TypedLine[]; act: WidgetActions }) {
  if (lines.length === 0) return null;
  return (
    <>
      <h3>Typed here</h3>
      <ul className="ruled">
        {lines.map((line) => (
          <li key={line.id}>
            <span className="id">{line.quantity}</span>
            <span>
              {line.name} {line.part && <span className="mono soft">{line.part}</span>}
            </span>
            <Button text onClick={() => act.remove(`line.${line.id}`)} aria-label={`Remove ${line.name}`}>
              Remove
            </Button>
          </li>
        ))}
      </ul>
    </>
  );
}

function Add({ id, choices, act }: { id: string; choices: Model['choices']; act: WidgetActions }) {
  return (
    <form
      className="add-line"
      onSubmit={(event) => {
        event.preventDefault();
        const form = event.currentTarget;
        const data = new FormData(form);
        const name = String(data.get('name') ?? '').trim();
        const quantity = Number(data.get('quantity'));
        if (!name || !(quantity > 0 && quantity <= 9999)) return;
        const part = choices.find((c) => [c.id, c.name, `${c.id}, ${c.name}`].includes(name));
        act.set(`line.${newId()}`, part ? { name: part.name, quantity, part: part.id } : { name, quantity });
        form.reset();
      }}
    >
      <div className="form-field">
        <label htmlFor={`${id}-quantity`}>How many</label>
        <input id={`${id}-quantity`} name="quantity" type="number" min={1} max={9999} step={1} defaultValue={1} required />
      </div>
      <div className="form-field">
        <label htmlFor={`${id}-name`}>What</label>
        <input id={`${id}-name`} name="name" type="text" maxLength={120} list={`${id}-parts`} autoComplete="off" required />
        <datalist id={`${id}-parts`}>
          {choices.map((c) => (
            <option key={c.id} value={`${c.id}, ${c.name}`} />
          ))}
        </datalist>
      </div>
      <button type="submit" className="btn">
        Add
      </button>
    </form>
  );
}
