/** Fault finder: what is known in one sentence, what to do next, what was seen, who is suspected, and both drawings. */
import { networkOf } from '@/lib/core/diagnosis';
import { Empty, Notice, Widget } from '@/lib/ui/blocks';
import { listed, unbroken } from '@/lib/ui/words';
import type { WidgetActions, WidgetViewProps } from '../definition';
import type { Model } from './definition';
import { Figures } from './figures';
import { powerNow } from './model/find';
import { misbehaves } from './model/readings';
import { abouts } from './model/subjects';
import { Seen } from './seen';
import { CrossCheck, ForTheRecord, Oddities, Suspects } from './suspects';
import { Next, Others, Results } from './tests';

export function View({ id, model, act }: WidgetViewProps<Model>) {
  const { chart, finding } = model;
  if (!chart || !finding) {
    return (
      <Widget title="Fault finder">
        <Empty title="No machine, no chart">
          This page belongs to no machine, so there is no chart to reason from. Start it from a machine’s page.
        </Empty>
      </Widget>
    );
  }
  const power = powerNow(model.answered);
  const wrong = model.readings.filter(misbehaves).map((r) => r.number);
  const elements = networkOf(chart).elements;
  const begun = finding.standing !== 'empty';
  const driven = model.about !== 'switch';
  return (
    <Widget title={titleOf(model)}>
      {act && !begun && <AboutChoice id={id} model={model} act={act} />}
      <p className="finder-verdict" role="status">
        {unbroken(finding.verdict)}
      </p>
      <Oddities finding={finding} />
      {driven && finding.notes.length > 0 && (
        <Notice title="Mind this first">
          {finding.notes.map((note) => (
            <p key={note}>{note}</p>
          ))}
        </Notice>
      )}
      {finding.next && <Next next={finding.next} power={power} act={act} readings={model.readings} />}
      <div className="pair finder-pair">
        {finding.suspects.length > 0 && <Suspects finding={finding} />}
        <Seen id={id} model={model} act={act} />
      </div>
      <Others others={finding.others} power={power} act={act} readings={model.readings} />
      <Results answered={model.answered} act={act} />
      <CrossCheck finding={driven ? { ...finding, notes: [] } : finding} nameOf={(element) => elements.get(element)?.name ?? element} />
      <ForTheRecord finding={finding} circuits={driven ? model.shown.filter((s) => !s.shows.fine).map((s) => s.id) : wrong} />
      <Before id={id} model={model} act={act} />
      {act && begun && (
        <details className="finder-fold no-print">
          <summary>Something else misbehaves</summary>
          <AboutChoice id={id} model={model} act={act} />
        </details>
      )}
      {!driven && <Figures chart={chart} finding={finding} readings={model.readings} />}
    </Widget>
  );
}

/** Named after what misbehaves. */
function titleOf({ readings, shown }: Model): string {
  const bad = [...readings.filter(misbehaves), ...shown.filter((s) => !s.shows.fine).map(({ id, name }) => ({ number: id, name }))];
  const [one] = bad;
  if (!one || bad.length > 4) return 'Fault finder';
  return `Fault finder, ${bad.length === 1 ? `${one.number} ${one.name}`.trim() : listed(bad.map((b) => b.number))}`;
}

function AboutChoice({ id, model, act }: { id: string; model: Model; act: WidgetActions }) {
  if (model.abouts.length < 2) return null;
  return (
    <fieldset className="form-field no-print finder-about">
      <legend>What misbehaves</legend>
      <div className="choices">
        {abouts
          .filter((about) => model.abouts.includes(about.id))
          .map((about) => (
            <label key={about.id}>
              <input
                type="radio"
                name={`${id}-about`}
                value={about.id}
                checked={model.about === about.id}
                onChange={() => (about.id === 'switch' ? act.remove('about') : act.set('about', about.id))}
              />
              <span>{about.name}</span>
            </label>
          ))}
      </div>
    </fieldset>
  );
}

/** What was done to the machine lately makes some faults likelier. */
function Before({ id, model, act }: { id: string; model: Model; act?: WidgetActions }) {
  const done = model.before.filter((b) => b.on);
  if (!act)
    return done.length > 0 ? <p className="note">What happened before: {done.map((b) => b.label.toLowerCase()).join('; ')}.</p> : null;
  return (
    <details className="finder-fold no-print">
      <summary>
        What happened before{done.length > 0 && `: ${done.length}`} <span className="soft">makes some faults likelier</span>
      </summary>
      <ul className="histories">
        {model.before.map((history) => (
          <li key={history.id}>
            <label className="check" htmlFor={`${id}-done-${history.id}`}>
              <input
                id={`${id}-done-${history.id}`}
                type="checkbox"
                checked={history.on}
                onChange={(event) => (event.target.checked ? act.set(`done.${history.id}`, true) : act.remove(`done.${history.id}`))}
              />
              {history.label}
            </label>
          </li>
        ))}
        {model.about === 'switch' && (
          <li>
            <label className="check" htmlFor={`${id}-threes`}>
              <input
                id={`${id}-threes`}
                type="checkbox"
                checked={model.threes}
                onChange={(event) => (event.target.checked ? act.set('threes', true) : act.remove('threes'))}
              />
              Reckon with three faults at once, not only two
            </label>
          </li>
        )}
      </ul>
    </details>
  );
}
