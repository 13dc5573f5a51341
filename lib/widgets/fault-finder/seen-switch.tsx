/** One switch in the list of what was seen: its reading, and behind it the ways to change it. */
import type { FormEvent } from 'react';
import { Button } from '@/lib/ui/controls';
import { SeenSign } from '@/lib/ui/drawings';
import type { WidgetActions } from '../definition';
import { founds, foundWords } from './add-seen';
import type { Reading } from './model/readings';
import { type Count, mostPresses } from './model/state';
import { type Found, removeReading, usualPresses, writeCount, writeFound, writeOthers } from './writes';

interface Props {
  id: string;
  reading: Reading;
  act?: WidgetActions;
}

export function SeenSwitch({ id, reading, act }: Props) {
  const { number, hand } = reading;
  const uneven = hand !== null && hand.missed > 0 && hand.missed < hand.presses;
  if (!act)
    return (
      <li className="seen">
        <Line reading={reading} />
      </li>
    );
  return (
    <li className="seen">
      <details>
        <summary>
          <Line reading={reading} changes />
        </summary>
        <div className="seen-change no-print">
          <Ways reading={reading} act={act} />
          {hand && !uneven && (
            <Steps id={`${id}-${number}`} what="by hand" at={`seen.${number}`} count={hand} others={reading.others} act={act} />
          )}
          <ByBall id={`${id}-${number}`} reading={reading} act={act} />
          <Others id={`${id}-${number}`} reading={reading} act={act} />
          <p className="actions">
            <Button
              text
              onClick={() => (reading.rest === 'inactive' ? act.remove(`rest.${number}`) : act.set(`rest.${number}`, 'inactive'))}
            >
              {reading.rest === 'inactive' ? 'Not looked at rest after all' : 'Looked at rest: quiet'}
            </Button>
            <Button text onClick={() => removeReading(act, reading)}>
              Take {number} out
            </Button>
          </p>
        </div>
      </details>
      {uneven && <Steps id={`${id}-${number}`} what="" at={`seen.${number}`} count={hand} others={reading.others} act={act} />}
    </li>
  );
}

function Line({ reading: { number, name, lines, known, mark, words }, changes }: { reading: Reading; changes?: boolean }) {
  return (
    <span className="seen-line">
      <b className="id">{number}</b>
      <span>
        {name || (known ? '' : 'not in this chart')}
        {lines && <small>{lines}</small>}
      </span>
      <span className={changes ? 'seen-words change' : 'seen-words'}>
        <SeenSign as={mark} />
        {words}
      </span>
    </span>
  );
}

const now = ({ mark, rest }: Reading): Found | null =>
  rest === 'active'
    ? 'stuck'
    : mark === 'answers' || mark === 'odd'
      ? 'registers'
      : mark === 'some'
        ? 'some'
        : mark === 'never'
          ? 'never'
          : null;

function Ways({ reading, act }: { reading: Reading; act: WidgetActions }) {
  return (
    <div className="finder-choices" role="group" aria-label={`What ${reading.number} does`}>
      {founds.map((found) => (
        <Button
          key={found}
          fill={now(reading) === found}
          aria-pressed={now(reading) === found}
          onClick={() => writeFound(act, reading.number, found, reading)}
        >
          {foundWords[found].title}
        </Button>
      ))}
    </div>
  );
}

/** Missed and pressed, by steps or typed. */
function Steps({
  id,
  what,
  at,
  count,
  others,
  act,
}: {
  id: string;
  what: string;
  at: string;
  count: Count;
  others: string[];
  act: WidgetActions;
}) {
  const write = (change: Partial<Count>) => writeCount(act, at, { ...count, ...change }, others);
  const step = (name: 'missed' | 'presses', label: string, by: 1 | -1, off: boolean) => (
    <button type="button" className="step" aria-label={label} disabled={off} onClick={() => write({ [name]: count[name] + by })}>
      {by > 0 ? '+' : '−'}
    </button>
  );
  const field = (name: 'missed' | 'presses', label: string) => (
    <input
      id={`${id}-${at.split('.')[0]}-${name}`}
      type="number"
      inputMode="numeric"
      min={0}
      max={name === 'missed' ? count.presses : mostPresses}
      aria-label={label}
      value={count[name]}
      onChange={({ target }) => target.value !== '' && write({ [name]: Number(target.value) })}
    />
  );
  const which = what ? `, ${what}` : '';
  return (
    <div className="steps no-print">
      <span>{what ? `${what}: missed` : 'missed'}</span>
      <span className="stepper">
        {step('missed', `One less missed${which}`, -1, count.missed === 0)}
        {field('missed', `Missed${which}`)}
        {step('missed', `One more missed${which}`, 1, count.missed >= count.presses)}
      </span>
      <span>of</span>
      <span className="stepper">
        {step('presses', `One press less${which}`, -1, count.presses <= Math.max(1, count.missed))}
        {field('presses', `Presses${which}`)}
        {step('presses', `One press more${which}`, 1, count.presses >= mostPresses)}
      </span>
    </div>
  );
}

function ByBall({ id, reading: { number, ball }, act }: { id: string; reading: Reading; act: WidgetActions }) {
  if (!ball)
    return (
      <p className="actions">
        <Button text onClick={() => writeCount(act, `ball.${number}`, { presses: 10, missed: 0 })}>
          Also rolled a ball over it
        </Button>
      </p>
    );
  return <Steps id={id} what="by ball" at={`ball.${number}`} count={ball} others={[]} act={act} />;
}

/** Other numbers that come up when this one is pressed. */
function Others({ id, reading: { number, hand, others }, act }: { id: string; reading: Reading; act: WidgetActions }) {
  const submit = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const typed = String(new FormData(event.currentTarget).get('others') ?? '');
    const more = typed.split(/[\s,;]+/).filter((word) => word !== '' && word !== number);
    if (more.length > 0) writeOthers(act, number, hand, [...new Set([...others, ...more])]);
    event.currentTarget.reset();
  };
  return (
    <form className="add-one" onSubmit={submit}>
      <div className="form-field">
        <label htmlFor={`${id}-others`}>Brings others: their numbers</label>
        <input id={`${id}-others`} name="others" type="text" maxLength={60} autoComplete="off" required />
      </div>
      <button type="submit" className="btn">
        Add
      </button>
      {others.length > 0 && (
        <ul className="chosen-list">
          {others.map((other) => (
            <li key={other}>
              <Button
                aria-label={`${number} does not bring ${other}`}
                onClick={() =>
                  writeOthers(
                    act,
                    number,
                    hand ?? { presses: usualPresses, missed: 0 },
                    others.filter((o) => o !== other),
                  )
                }
              >
                {other} ×
              </Button>
            </li>
          ))}
        </ul>
      )}
    </form>
  );
}
