/** Under which condition, then clean or missed. */
import { type Counting, conditions } from '@/lib/core/proof';
import { newId } from '@/lib/notebook/ids';
import { Button } from '@/lib/ui/controls';
import type { WidgetActions } from '../definition';
import type { Model } from './definition';

export function Spread({ proof }: { proof: Counting }) {
  return (
    <ul className="spread" aria-label="Clean presses of this run by condition">
      {conditions.map(({ id, name }) => (
        <li key={id}>
          <b>{proof.run.clean[id]}</b>
          {name}
        </li>
      ))}
    </ul>
  );
}

export function Presses({ id, model, proof, act }: { id: string; model: Model; proof: Counting; act: WidgetActions }) {
  const { condition, run, takeBack, lastMiss } = model;
  return (
    <div className="press-desk no-print">
      <fieldset className="form-field">
        <legend>The next press is made</legend>
        <div className="choices spread-choices">
          {conditions.map((c) => (
            <label key={c.id}>
              <input
                type="radio"
                name={`${id}-condition`}
                value={c.id}
                checked={condition?.id === c.id}
                onChange={() => act.set('condition', c.id)}
              />
              <span>
                <b>{proof.run.clean[c.id]}</b> {c.name}
              </span>
            </label>
          ))}
        </div>
        <p className="form-hint">By ball means as it is played, with the playfield down.</p>
      </fieldset>
      <div className="presses">
        <Button fill disabled={!condition} onClick={() => condition && act.count(`run.${run}.${condition.id}`, 1)}>
          <span>
            Clean press
            <small>{condition ? condition.name : 'choose first how it is pressed'}</small>
          </span>
        </Button>
        <Button disabled={!condition} onClick={() => condition && act.tick(`miss.${run}.${condition.id}.${newId()}`, true)}>
          Missed
        </Button>
      </div>
      {takeBack && condition && (
        <Button text onClick={() => act.count(takeBack, -1)}>
          Pressed wrongly: take one back, {condition.name}
        </Button>
      )}
      {lastMiss && (
        <Button text onClick={() => act.remove(lastMiss)}>
          It was not a press: take the miss back
        </Button>
      )}
    </div>
  );
}
