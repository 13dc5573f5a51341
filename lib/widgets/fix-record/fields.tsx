/** The fix record being written: every field is shared state, changed as it is typed. */
import { named } from '@/lib/notebook/circuits';
import { Button, Field } from '@/lib/ui/controls';
import { WireChip } from '@/lib/ui/drawings';
import type { WidgetActions } from '../definition';
import type { Model } from './definition';

interface Props {
  id: string;
  model: Model;
  act: WidgetActions;
}

const mostMinutes = 6000; // a hundred hours: more is a slip of the finger

export function RecordFields({ id, model, act }: Props) {
  const area = (key: 'symptom' | 'remedy' | 'proof' | 'watch', label: string, hint: string) => (
    <div className="whole">
      <Field id={`${id}-${key}`} label={label} hint={hint}>
        {(control) => (
          <textarea {...control} rows={2} maxLength={2000} value={model[key]} onChange={(event) => act.set(key, event.target.value)} />
        )}
      </Field>
    </div>
  );
  return (
    <div className="fields">
      {area('symptom', 'Symptom', 'What it does, in the words somebody will search for.')}
      <Circuits id={id} model={model} act={act} />
      <Field id={`${id}-cause`} label="Cause">
        {(control) => (
          <select {...control} value={model.cause} onChange={(event) => act.set('cause', event.target.value)}>
            <option value="">Not known yet</option>
            {model.causes.map((c) => (
              <option key={c.id} value={c.id}>
                {c.name}
              </option>
            ))}
          </select>
        )}
      </Field>
      <div className="form-field">
        <Field
          id={`${id}-place`}
          label="Place"
          hint="A pin such as A3J4-7, or in words."
          error={
            model.placePin && model.allCircuits.length > 0 && model.placeWires.length === 0
              ? `This machine’s chart has no wire at ${model.placePin}.`
              : undefined
          }
        >
          {(control) => (
            <input
              {...control}
              type="text"
              maxLength={200}
              autoComplete="off"
              value={model.place}
              onChange={(event) => act.set('place', event.target.value)}
            />
          )}
        </Field>
        {model.placeWires.length > 0 && (
          <p>
            {[...new Set(model.placeWires)].map((colour) => (
              <WireChip key={colour} colour={colour} />
            ))}
          </p>
        )}
      </div>
      {area('remedy', 'Remedy', 'What was done.')}
      {area(
        'proof',
        'Proof',
        model.proofTests.length > 0
          ? 'The proof test of this page is named here by itself; write what it does not say.'
          : 'How it was shown to be mended: what was counted, cold and warm. A proof test on this page is named here by itself.',
      )}
      {model.proofTests.map((told) => (
        <p key={told} className="whole note soft">
          See the proof test: {told}
        </p>
      ))}
      <Parts id={id} model={model} act={act} />
      <Outcome id={id} model={model} act={act} />
      <Field id={`${id}-minutes`} label="Minutes on the bench">
        {(control) => (
          <input
            {...control}
            type="number"
            min={0}
            max={mostMinutes}
            step={1}
            value={model.minutes ?? ''}
            onChange={({ target }) =>
              target.value === ''
                ? act.remove('minutes')
                : act.set('minutes', Math.min(mostMinutes, Math.max(0, Math.round(Number(target.value)))))
            }
          />
        )}
      </Field>
      <Field id={`${id}-on`} label="Day">
        {(control) => <input {...control} type="date" value={model.on} onChange={(event) => act.set('on', event.target.value)} />}
      </Field>
      <Field id={`${id}-by`} label="Signed by">
        {(control) => (
          <input
            {...control}
            type="text"
            maxLength={120}
            autoComplete="off"
            value={model.by}
            onChange={(event) => act.set('by', event.target.value)}
          />
        )}
      </Field>
      {area('watch', 'To watch', 'What may come back, and the first sign of it.')}
    </div>
  );
}

/** The first word of what was typed or chosen from the list: a number, a part id. */
const firstWord = (typed: FormDataEntryValue | null) => /^[^\s,]+/.exec(String(typed ?? '').trim())?.[0] ?? '';

function Circuits({ id, model, act }: Props) {
  return (
    <div className="form-field whole">
      <form
        className="add-one"
        onSubmit={(event) => {
          event.preventDefault();
          const number = firstWord(new FormData(event.currentTarget).get('number'));
          if (number) act.set(`circuit.${number}`, true);
          event.currentTarget.reset();
        }}
      >
        <div className="form-field">
          <label htmlFor={`${id}-circuit`}>Circuits</label>
          <input
            id={`${id}-circuit`}
            name="number"
            type="text"
            list={`${id}-circuits`}
            maxLength={100}
            autoComplete="off"
            required
            aria-describedby={`${id}-circuit-hint`}
          />
        </div>
        <button type="submit" className="btn">
          Add
        </button>
        <datalist id={`${id}-circuits`}>
          {model.allCircuits.map((c) => (
            <option key={c.number} value={named(c)} />
          ))}
        </datalist>
      </form>
      <span className="form-hint" id={`${id}-circuit-hint`}>
        The number of each switch or load that showed it. Wires and pins follow from the chart.
      </span>
      <Chosen
        list={model.circuits.map((c) => ({
          key: `circuit.${c.number}`,
          name: named(c),
          shown: c.known ? named(c) : `${named(c)}, not in this chart`,
        }))}
        act={act}
      />
    </div>
  );
}

function Parts({ id, model, act }: Props) {
  return (
    <div className="form-field whole">
      <form
        className="add-line"
        onSubmit={(event) => {
          event.preventDefault();
          const data = new FormData(event.currentTarget);
          const typed = firstWord(data.get('part'));
          const quantity = Math.round(Number(data.get('quantity')));
          const part = model.allParts.find((p) => p.id.toLowerCase() === typed.toLowerCase());
          if (!part || !(quantity > 0)) return;
          act.set(`part.${part.id}`, quantity);
          event.currentTarget.reset();
        }}
      >
        <div className="form-field">
          <label htmlFor={`${id}-part-quantity`}>How many</label>
          <input id={`${id}-part-quantity`} name="quantity" type="number" min={1} step={1} defaultValue={1} required />
        </div>
        <div className="form-field">
          <label htmlFor={`${id}-part`}>Part used, by our number</label>
          <select id={`${id}-part`} name="part" required defaultValue="">
            <option value="">Choose one</option>
            {model.allParts.map((p) => (
              <option key={p.id} value={p.id}>
                {p.id}, {p.name}
              </option>
            ))}
          </select>
        </div>
        <button type="submit" className="btn">
          Add
        </button>
      </form>
      <Chosen list={model.parts.map((p) => ({ key: `part.${p.id}`, name: p.name, shown: `${p.quantity} × ${p.name}` }))} act={act} />
    </div>
  );
}

/** What was chosen so far; pressing one takes it out again. */
function Chosen({ list, act }: { list: { key: string; name: string; shown: string }[]; act: Props['act'] }) {
  return (
    <ul className="chosen-list">
      {list.map(({ key, name, shown }) => (
        <li key={key}>
          <Button onClick={() => act.remove(key)} aria-label={`Remove ${name}`}>
            <span>{shown}</span>
            <span className="soft">remove</span>
          </Button>
        </li>
      ))}
    </ul>
  );
}

function Outcome({ id, model, act }: Props) {
  return (
    <fieldset className="form-field whole">
      <legend>Outcome</legend>
      <div className="choices">
        {model.outcomes.map((o) => (
          <label key={o.id}>
            <input
              type="radio"
              name={`${id}-outcome`}
              value={o.id}
              checked={model.outcome === o.id}
              onChange={() => act.set('outcome', o.id)}
            />
            {o.name}
          </label>
        ))}
      </div>
    </fieldset>
  );
}
