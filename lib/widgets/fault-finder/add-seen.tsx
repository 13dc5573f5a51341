/** Adding what was seen: which one, then one tap for what it did. */
import type { FormEvent, MouseEvent } from 'react';
import type { Chart } from '@/lib/core/chart/types';
import { named } from '@/lib/notebook/circuits';
import { Button } from '@/lib/ui/controls';
import type { WidgetActions } from '../definition';
import type { Reading } from './model/readings';
import type { Subject } from './model/subjects';
import { type Which, whichShown, whichSwitch, whichSwitches, whichThing } from './which';
import { type Found, usualPresses, writeFound, writeHold } from './writes';

export const foundWords: Record<Found, { title: string; more?: string }> = {
  registers: { title: 'Registers', more: `${usualPresses} of ${usualPresses}` },
  never: { title: 'Never registers' },
  some: { title: 'Misses some' },
  stuck: { title: 'On by itself' },
};
export const capital = (words: string) => words.charAt(0).toUpperCase() + words.slice(1);
export const founds = Object.keys(foundWords) as Found[];

/** What the form's field means; when it means nothing the field says so, and nothing is written. */
function fromField<T>(form: HTMLFormElement | null, name: string, read: (typed: string) => Which<T>): T | null {
  const field = form?.elements.namedItem(name) as HTMLInputElement | null;
  if (!field) return null;
  const which = read(field.value);
  field.setCustomValidity(which.ok ? '' : which.message);
  if (which.ok) return which.is;
  field.reportValidity();
  field.focus();
  return null;
}
/** Ready for the next one. Back to the field only from a keyboard: under a thumb it would call one up. */
function again(form: HTMLFormElement | null, name: string, { detail }: MouseEvent) {
  form?.reset();
  if (detail === 0) (form?.elements.namedItem(name) as HTMLInputElement | null)?.focus();
}
const clear = (event: FormEvent<HTMLInputElement>) => event.currentTarget.setCustomValidity('');

/** Enter chooses the switch and goes to the buttons; it never writes by itself. */
function toButtons(event: FormEvent<HTMLFormElement>) {
  event.preventDefault();
  event.currentTarget.querySelector('button')?.focus();
}

interface Props {
  id: string;
  act: WidgetActions;
}

export function AddSwitch({ id, act, chart, readings }: Props & { chart: Chart; readings: readonly Reading[] }) {
  const add = (event: MouseEvent<HTMLButtonElement>, found: Found) => {
    const { form } = event.currentTarget;
    const number = fromField(form, 'switch', (typed) => whichSwitch(chart, typed));
    if (number === null) return;
    writeFound(
      act,
      number,
      found,
      readings.find((r) => r.number === number),
    );
    again(form, 'switch', event);
  };
  return (
    <form className="finder-add no-print" onSubmit={toButtons}>
      <div className="form-field">
        <label htmlFor={`${id}-add`}>Add what you saw: switch number or name</label>
        <input id={`${id}-add`} name="switch" type="text" list={`${id}-switches`} maxLength={100} autoComplete="off" onInput={clear} />
      </div>
      <div className="finder-choices">
        {founds.map((found) => (
          <Button key={found} onClick={(event) => add(event, found)}>
            <span>
              {foundWords[found].title}
              {foundWords[found].more && <small>{foundWords[found].more}</small>}
            </span>
          </Button>
        ))}
      </div>
      <datalist id={`${id}-switches`}>
        {chart.circuits.map((c) => (
          <option key={c.number} value={named(c)} />
        ))}
      </datalist>
    </form>
  );
}

export function AddThing({ id, act, subject }: Props & { subject: Subject }) {
  const add = (event: MouseEvent<HTMLButtonElement>, shows: string) => {
    const { form } = event.currentTarget;
    const thing = fromField(form, 'thing', (typed) => whichThing(subject, typed));
    if (!thing) return;
    act.set(thing.key, shows);
    again(form, 'thing', event);
  };
  return (
    <form className="finder-add no-print" onSubmit={toButtons}>
      <div className="form-field">
        <label htmlFor={`${id}-add`}>Add what you saw: {subject.noun.toLowerCase()}</label>
        <input id={`${id}-add`} name="thing" type="text" list={`${id}-things`} maxLength={100} autoComplete="off" onInput={clear} />
      </div>
      <div className="finder-choices">
        {subject.choices.map((choice) => (
          <Button key={choice.id} onClick={(event) => add(event, choice.id)}>
            {capital(choice.label)}
          </Button>
        ))}
      </div>
      <datalist id={`${id}-things`}>
        {subject.things.map((thing) => (
          <option key={thing.key} value={`${thing.id} ${thing.name}`} />
        ))}
      </datalist>
    </form>
  );
}

/** Several held closed at once, and all that shows: the pattern that gives a bypassed diode away. */
export function AddHeld({ id, act, chart }: Props & { chart: Chart }) {
  const submit = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const form = event.currentTarget;
    const held = fromField(form, 'held', (typed) => atLeastTwo(whichSwitches(chart, typed)));
    const shown = held && fromField(form, 'shown', (typed) => whichShown(chart, typed));
    if (!held || !shown) return;
    writeHold(act, held, shown);
    form.reset();
  };
  return (
    <details className="finder-fold no-print">
      <summary>Several held closed at once</summary>
      <form className="finder-held" onSubmit={submit}>
        <div className="form-field">
          <label htmlFor={`${id}-held`}>Held closed</label>
          <input id={`${id}-held`} name="held" type="text" maxLength={100} autoComplete="off" placeholder="46, 36, 44" onInput={clear} />
        </div>
        <div className="form-field">
          <label htmlFor={`${id}-shown`}>Then these show, all of them</label>
          <input
            id={`${id}-shown`}
            name="shown"
            type="text"
            maxLength={200}
            autoComplete="off"
            placeholder="46, 36, 44, 34"
            onInput={clear}
          />
        </div>
        <button type="submit" className="btn">
          Add
        </button>
      </form>
    </details>
  );
}

const atLeastTwo = (which: Which<string[]>): Which<string[]> =>
  which.ok && which.is.length < 2 ? { ok: false, message: 'Write two numbers or more.' } : which;

/** Millivolts measured across a terminal. */
export function AddDrop({ id, act, chart }: Props & { chart: Chart }) {
  const submit = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const form = event.currentTarget;
    const pin = fromField(form, 'pin', (typed): Which<string> => {
      const is = typed.trim().toUpperCase().replace('P', 'J');
      return chart.pins.has(is) ? { ok: true, is } : { ok: false, message: 'Write a pin of this chart, such as A2J1-3.' };
    });
    const millivolts = Number(new FormData(form).get('millivolts'));
    if (!pin || !(millivolts >= 0)) return;
    act.set(`drop.${pin}`, millivolts);
    form.reset();
  };
  return (
    <form className="finder-held no-print" onSubmit={submit}>
      <div className="form-field">
        <label htmlFor={`${id}-pin`}>Drop measured across the terminal at</label>
        <input id={`${id}-pin`} name="pin" type="text" maxLength={12} autoComplete="off" onInput={clear} />
      </div>
      <div className="form-field">
        <label htmlFor={`${id}-millivolts`}>Millivolts</label>
        <input id={`${id}-millivolts`} name="millivolts" type="number" inputMode="decimal" min={0} max={100000} required />
      </div>
      <button type="submit" className="btn">
        Add
      </button>
    </form>
  );
}
