/** What is proved: the switch, what it missed before the mend, hours watched. */
import { Field } from '@/lib/ui/controls';
import type { WidgetActions } from '../definition';
import type { Model } from './definition';

interface Props {
  id: string;
  model: Model;
  act: WidgetActions;
}

const most = 9999;

function Count({ id, act, at, label, value, hint, step = 1 }: Pick<Props, 'id' | 'act'> & CountProps) {
  const read = (typed: string) => Math.min(most, Math.max(0, step === 1 ? Math.round(Number(typed)) : Number(typed)));
  return (
    <Field id={`${id}-${at.replace('.', '-')}`} label={label} hint={hint}>
      {(control) => (
        <input
          {...control}
          type="number"
          inputMode="decimal"
          min={0}
          max={most}
          step={step}
          value={value ?? ''}
          onChange={({ target }) => (target.value === '' ? act.remove(at) : act.set(at, read(target.value)))}
        />
      )}
    </Field>
  );
}
interface CountProps {
  at: string;
  label: string;
  value: number | null;
  hint?: string;
  step?: number;
}

/** Open until the first press after the mend. */
export function SetUp({ id, model, act }: Props) {
  const { proof, before } = model;
  const begun = proof.clean > 0 || proof.ended.length > 0;
  return (
    <details className="proof-set-up no-print" open={!begun}>
      <summary>What is proved, and what it missed before</summary>
      <div className="fields">
        <div className="whole">
          <Switch id={id} model={model} act={act} />
        </div>
        <Count id={id} act={act} at="before.missed" label="Missed before the mend" value={before.missed} />
        <Count id={id} act={act} at="before.presses" label="of presses" value={before.presses} hint="20 is a good number." />
      </div>
    </details>
  );
}

function Switch({ id, model, act }: Props) {
  const choose = (value: string) => (value === '' ? act.remove('what') : act.set('what', value));
  const listed = model.circuits.some(({ number }) => number === model.what);
  return (
    <Field id={`${id}-what`} label="Switch">
      {(control) =>
        model.circuits.length === 0 ? (
          <input {...control} type="text" maxLength={20} autoComplete="off" value={model.what} onChange={(e) => choose(e.target.value)} />
        ) : (
          <select {...control} value={model.what} onChange={(e) => choose(e.target.value)}>
            <option value="">Choose one</option>
            {model.what && !listed && <option value={model.what}>{model.what}, not in this chart</option>}
            {model.circuits.map(({ number, name }) => (
              <option key={number} value={number}>
                {number} {name}
              </option>
            ))}
          </select>
        )
      }
    </Field>
  );
}

export function Watch({ id, model, act }: Props) {
  return (
    <details className="proof-set-up no-print">
      <summary>If it comes by itself: count hours</summary>
      <div className="fields">
        <Count id={id} act={act} at="hours.run" label="Hours watched" value={model.hours.run} step={0.5} />
        <Count id={id} act={act} at="hours.events" label="Times it came" value={model.hours.events} />
      </div>
    </details>
  );
}
