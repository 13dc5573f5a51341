/** Connector plan: cautions first, the drawing that is the table, the order of work, then what to fetch. */
import { splitHalf } from '@/lib/core/chart/inline';
import type { ConnectorPlan } from '@/lib/core/harness/types';
import { Caution, Empty, Notice, TickBox, Widget, whoAndWhen } from '@/lib/ui/blocks';
import { Field } from '@/lib/ui/controls';
import { Faces, Ruler, TrueScale } from '@/lib/ui/drawings';
import { FoundNote } from '@/lib/ui/found-note';
import { PaperLinks } from '@/lib/ui/paper-links';
import { ByPhoto } from '@/lib/ui/sampler/by-photo';
import { duration } from '@/lib/ui/words';
import type { WidgetActions, WidgetViewProps } from '../definition';
import type { HeaderSide, Model } from './definition';
import { Groups } from './groups';
import { Load, StoredCharge } from './load-table';
import { PlanTable } from './plan-table';
import { headerWords, planFace } from './plan-words';
import { Supplies } from './supplies';
import { WireEnds } from './wire-ends';

export function View({ id, model, page, act }: WidgetViewProps<Model>) {
  const { result } = model;
  const plan = result?.ok ? result.plan : null;
  return (
    <Widget title={plan ? `Connector plan, ${plan.housingName}` : 'Connector plan'}>
      {act && model.headers.length > 0 && <Choose id={id} model={model} act={act} />}
      {!result && <NothingYet model={model} writing={act !== undefined} />}
      {result && !result.ok && (
        <Notice title={result.message}>
          <p>{result.mend}</p>
        </Notice>
      )}
      {plan && page && <PaperLinks label="Bench sheet" href={`/pages/${page}/sheet/${id}.pdf`} />}
      {plan && <Planned id={id} plan={plan} model={model} act={act} />}
    </Widget>
  );
}

function NothingYet({ model, writing }: { model: Model; writing: boolean }) {
  if (model.headers.length === 0) {
    return (
      <Empty title="No chart to plan from">
        {model.machine
          ? `The chart of ${model.machine} has no headers.`
          : 'This page belongs to no machine. Start it from a machine’s page and its headers stand here.'}
      </Empty>
    );
  }
  return (
    <Empty title="No header chosen yet">
      {writing ? 'Choose the header whose plug is to be made new.' : 'Whoever writes on this page chooses one.'}
    </Empty>
  );
}

const sideNames: Record<HeaderSide, string> = {
  sound: 'Joints and pins are sound',
  reflow: 'Reflow its joints',
  replace: 'Replace the header',
};

function Choose({ id, model, act }: { id: string; model: Model; act: WidgetActions }) {
  return (
    <div className="fields">
      <Field id={`${id}-header`} label="Header">
        {(control) => (
          <select {...control} value={model.header} onChange={(event) => act.set('header', event.target.value)}>
            <option value="">Choose one</option>
            {model.headers.map((h) => (
              <option key={h.id} value={h.id}>
                {[h.id, h.name, `${h.positions} positions`].filter(Boolean).join(', ')}
              </option>
            ))}
          </select>
        )}
      </Field>
      {model.header && !splitHalf(model.header) && (
        <Field id={`${id}-side`} label="On the board">
          {(control) => (
            <select {...control} value={model.headerSide} onChange={(event) => act.set('headerSide', event.target.value)}>
              {Object.entries(sideNames).map(([side, name]) => (
                <option key={side} value={side}>
                  {name}
                </option>
              ))}
            </select>
          )}
        </Field>
      )}
    </div>
  );
}

/** Cautions about electricity, by their id in content/cautions.json. */
const electric = new Set(['mains', 'high-voltage', 'stored-charge', 'batteries']);

function Planned({ id, plan, model, act }: { id: string; plan: ConnectorPlan; model: Model; act?: WidgetActions }) {
  const face = planFace(plan);
  const saveKey = plan.keys.positions.length > 0 && plan.half?.contacts !== 'pins';
  return (
    <>
      <p className="soft plan-facts">
        {headerWords(plan)}{' '}
        {!act && `${plan.half ? '' : `${sideNames[model.headerSide]}. `}${model.saveKey ? 'The old keying plug is saved.' : ''}`}
      </p>
      {plan.cautions.map((caution) => (
        <Caution key={caution.id} title={`${caution.title.replace(/\.$/, '')}.`} electric={electric.has(caution.id)}>
          {caution.text}
        </Caution>
      ))}
      {plan.problems.length > 0 && (
        <>
          <h3>Before you begin</h3>
          <ul className="problems">
            {plan.problems.map((problem, k) => (
              <li key={k}>
                <b>
                  {problem.level === 'error' ? 'Stop: ' : 'Look: '}
                  {problem.message}
                </b>
                <span>{problem.mend}</span>
              </li>
            ))}
          </ul>
        </>
      )}
      {act && saveKey && (
        <label className="check" htmlFor={`${id}-save-key`}>
          <input
            id={`${id}-save-key`}
            type="checkbox"
            checked={model.saveKey}
            onChange={(event) => act.set('saveKey', event.target.checked)}
          />
          The old keying plug comes out whole and is used again
        </label>
      )}
      {plan.asFound.length > 0 && (
        <section className="found-list">
          <h3>Otherwise in this machine</h3>
          {plan.asFound.map(({ found, where }) => (
            <FoundNote key={found.id} found={found} where={where} removed={model.removed} />
          ))}
        </section>
      )}
      <PlanTable plan={plan} model={model} act={act} />
      {act && model.chart && (
        <section className="no-print">
          <h3>Which wire is it?</h3>
          <ByPhoto id={`${id}-sampler`} chart={model.chart} header={plan.header.id} />
        </section>
      )}
      <WireEnds id={id} plan={plan} act={act} />
      <Load plan={plan} />
      <div className="pair">
        <Groups plan={plan} />
        <StoredCharge plan={plan} />
      </div>
      <div className="pair">
        <Work plan={plan} model={model} act={act} />
        <Supplies plan={plan} spoken={model.spoken} />
      </div>
      <section>
        <h3>Both views of the housing</h3>
        <Faces face={face} idPrefix={`${id}-plan`} />
      </section>
      <p className="note soft no-print after-figure">Printed, this page shows the housing at true size.</p>
      <section className="print-only">
        <h3>At true size</h3>
        <div className="true-size">
          <div>
            <TrueScale face={face} view={face.contacts === 'pins' ? 'Q1' : 'P1'} />
            <p className="note soft">{plan.housingName}, wire entry, 1:1. Lay the housing here, wires towards you.</p>
          </div>
          <div>
            <Ruler />
            <p className="note soft">Must be 50 mm. If it is not, print at 100 %.</p>
          </div>
        </div>
      </section>
    </>
  );
}

function Work({ plan, model, act }: { plan: ConnectorPlan; model: Model; act?: WidgetActions }) {
  const left = plan.steps.filter((step) => !model.ticks[step.id]).reduce((sum, step) => sum + step.minutes, 0);
  return (
    <section>
      <h3>
        Order of work{' '}
        <span className="soft note">
          {model.done} of {model.of}
          {left > 0 && `, about ${duration(left)} left`}
        </span>
      </h3>
      <ol className="todo">
        {plan.steps.map((step) => {
          const tick = model.ticks[step.id];
          return (
            <li key={step.id} className={tick ? 'done' : undefined}>
              <TickBox label={step.title} tick={tick} onTick={act && ((on) => act.tick(`tick.${step.id}`, on))} />
              <span>
                <b>{step.title}</b>
                {step.detail && <small>{step.detail}</small>}
              </span>
              <span className="soft">{tick ? whoAndWhen(tick) : `${step.minutes} min`}</span>
            </li>
          );
        })}
      </ol>
    </section>
  );
}
