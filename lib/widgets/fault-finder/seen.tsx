/** What was seen: the list, and ways to add to it. */
import { Button } from '@/lib/ui/controls';
import { SeenSign } from '@/lib/ui/drawings';
import type { WidgetActions } from '../definition';
import { AddDrop, AddHeld, AddSwitch, AddThing, capital } from './add-seen';
import type { Model } from './definition';
import { heldWords } from './model/readings';
import { SeenSwitch } from './seen-switch';

interface Props {
  id: string;
  model: Model;
  act?: WidgetActions;
}

export function Seen({ id, model, act }: Props) {
  return (
    <section>
      <h3>What was seen</h3>
      {model.subject ? <SeenThings id={id} model={model} act={act} /> : <SeenSwitches id={id} model={model} act={act} />}
    </section>
  );
}

function SeenSwitches({ id, model: { chart, readings, held }, act }: Props) {
  return (
    <>
      {act && chart && <AddSwitch id={id} act={act} chart={chart} readings={readings} />}
      <ul className="seen-list">
        {readings.map((reading) => (
          <SeenSwitch key={reading.number} id={id} reading={reading} act={act} />
        ))}
        {held.map((hold) => (
          <li key={hold.id} className="seen plain">
            <span>{heldWords(hold)}</span>
            {act && (
              <Button text aria-label={`Take out: ${heldWords(hold)}`} onClick={() => act.remove(`hold.${hold.id}`)}>
                take out
              </Button>
            )}
          </li>
        ))}
      </ul>
      {act && chart && <AddHeld id={id} act={act} chart={chart} />}
    </>
  );
}

/** Loads, lamps, strings: each with its symptom, changed by a tap behind it. */
function SeenThings({ id, model: { chart, subject, shown, drops, about }, act }: Props) {
  if (!subject || !chart) return null;
  return (
    <>
      {act && <AddThing key={about} id={id} act={act} subject={subject} />}
      <ul className="seen-list">
        {shown.map((thing) => {
          const line = (
            <span className="seen-line">
              <b className="id">{thing.id}</b>
              <span>{thing.name || 'not in this chart'}</span>
              <span className={act ? 'seen-words change' : 'seen-words'}>
                <SeenSign as={thing.shows.fine ? 'answers' : 'never'} />
                {thing.shows.label}
              </span>
            </span>
          );
          return (
            <li key={thing.key} className="seen">
              {act ? (
                <details>
                  <summary>{line}</summary>
                  <div className="seen-change no-print">
                    <div className="finder-choices" role="group" aria-label={`What ${thing.id} does`}>
                      {subject.choices.map((choice) => (
                        <Button
                          key={choice.id}
                          fill={choice.id === thing.shows.id}
                          aria-pressed={choice.id === thing.shows.id}
                          onClick={() => act.set(thing.key, choice.id)}
                        >
                          {capital(choice.label)}
                        </Button>
                      ))}
                    </div>
                    <Button text onClick={() => act.remove(thing.key)}>
                      Take {thing.id} out
                    </Button>
                  </div>
                </details>
              ) : (
                line
              )}
            </li>
          );
        })}
        {drops.map(([pin, millivolts]) => (
          <li key={pin} className="seen plain">
            <span>
              <b className="mono">{pin}</b> {millivolts} mV across its terminal
            </span>
            {act && (
              <Button text aria-label={`Take out the drop at ${pin}`} onClick={() => act.remove(`drop.${pin}`)}>
                take out
              </Button>
            )}
          </li>
        ))}
      </ul>
      {act && about === 'string' && <AddDrop id={id} act={act} chart={chart} />}
    </>
  );
}
