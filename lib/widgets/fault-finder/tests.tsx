/** The next test with its reason and its answers as buttons, other tests, and what tests said. */
import type { Advice, Power, Test } from '@/lib/core/diagnosis';
import { Caution, whoAndWhen } from '@/lib/ui/blocks';
import { Button } from '@/lib/ui/controls';
import { unbroken } from '@/lib/ui/words';
import type { WidgetActions } from '../definition';
import { capital } from './add-seen';
import type { Answered } from './model/find';
import type { Reading } from './model/readings';
import { cautionsOf } from './test-cautions';
import { writeAnswer } from './writes';

interface Props {
  act?: WidgetActions;
  readings: readonly Reading[];
  power: Power; // of the machine now
}

const hazardWords: Record<Test['hazard'], string> = {
  0: '',
  1: 'power on, fingers off',
  2: 'load rail live',
  3: 'stored charge: measure first',
};

const powerWords: Record<Power, string> = { on: 'Switch it on', off: 'Switch it off', unplugged: 'Unplug it, mains plug out' };

const span = (minutes: number) => {
  const whole = Math.round(minutes);
  return minutes < 1 ? 'under a minute' : `about ${whole} ${whole === 1 ? 'minute' : 'minutes'}`;
};

/** Time, danger, and what has to be switched first. */
export function termsOf({ test, minutes }: Pick<Advice, 'test' | 'minutes'>, power: Power): string {
  const hazard = hazardWords[test.hazard];
  // What is set up with the machine off and then looked at with it on.
  const danger = test.hazard === 1 && test.power !== 'on' ? `then ${hazard}` : hazard;
  return [test.power === power ? '' : `${powerWords[test.power]} first`, danger, span(minutes)].filter(Boolean).join('; ');
}

function Answers({ test, act, readings }: { test: Test } & Omit<Props, 'power'>) {
  if (!act) return <p className="soft">Answers: {test.outcomes.map((o) => o.label).join('; or ')}</p>;
  return (
    <div className="test-answers no-print">
      {test.outcomes.map((outcome) => (
        <Button key={outcome.id} onClick={() => writeAnswer(act, test, outcome.id, readings)}>
          {capital(outcome.label)}
        </Button>
      ))}
    </div>
  );
}

export function Next({ next, power, ...rest }: { next: Advice } & Props) {
  const dangerous = next.test.hazard >= 2 || next.test.power === 'unplugged'; // said before the test itself
  return (
    <section className="next" aria-label="Next test">
      {dangerous && <Cautions test={next.test} />}
      <div className={next.test.outcomes.length > 3 ? 'next-test many' : 'next-test'}>
        <div>
          <h3>Next: {next.test.title}</h3>
          {next.reason && <p>{unbroken(next.reason)}</p>}
          <p className="soft">{capital(termsOf(next, power))}.</p>
        </div>
        <Answers test={next.test} {...rest} />
      </div>
      {!dangerous && rest.act && <Cautions test={next.test} />}
    </section>
  );
}

const Cautions = ({ test }: { test: Test }) =>
  cautionsOf(test).map(({ title, text }) => (
    <Caution key={title} title={`${title}.`} electric>
      {text}
    </Caution>
  ));

export function Others({ others, power, ...rest }: { others: readonly Advice[] } & Props) {
  if (others.length === 0) return null;
  return (
    <details className="finder-fold">
      <summary>Other tests, the most telling first</summary>
      <ul className="other-tests">
        {others.map((advice) => (
          <li key={advice.test.id}>
            <p>
              <b>{advice.test.title}</b> <span className="soft">{capital(termsOf(advice, power))}.</span>
            </p>
            {advice.test.hazard >= 2 && (
              <p className="note">
                {cautionsOf(advice.test)
                  .map(({ title, text }) => `${title}. ${text}`)
                  .join(' ')}
              </p>
            )}
            <Answers test={advice.test} {...rest} />
          </li>
        ))}
      </ul>
    </details>
  );
}

export function Results({ answered, act }: { answered: readonly Answered[]; act?: WidgetActions }) {
  if (answered.length === 0) return null;
  return (
    <section>
      <h3>Tests done</h3>
      <ul className="results">
        {answered.map((result) => (
          <li key={result.test}>
            <span>
              {result.title} <b>{result.label}</b>
            </span>
            <span className="soft">{whoAndWhen(result)}</span>
            {act && (
              <Button text className="no-print" aria-label={`Take back: ${result.title}`} onClick={() => act.remove(`test.${result.test}`)}>
                take back
              </Button>
            )}
          </li>
        ))}
      </ul>
    </section>
  );
}
