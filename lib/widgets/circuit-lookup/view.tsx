/** Circuit lookup: the clue, and what it leads to. */
import type { LookupResult } from '@/lib/core/lookup/types';
import { Widget } from '@/lib/ui/blocks';
import { Button, Field } from '@/lib/ui/controls';
import type { WidgetActions, WidgetViewProps } from '../definition';
import { Answer } from './answer';
import type { Model } from './definition';

export function View({ id, model, state, act }: WidgetViewProps<Model>) {
  return (
    <Widget title="Circuit lookup">
      {act ? <Clue id={id} clue={model.clue} act={act} /> : model.clue && <p className="soft">Asked: “{model.clue}”</p>}
      <Result id={id} model={model} picked={typeof state.pick === 'string' && state.pick !== ''} act={act} />
    </Widget>
  );
}

function Clue({ id, clue, act }: { id: string; clue: string; act: WidgetActions }) {
  return (
    <Field id={`${id}-clue`} label="Number, name, colours or pin">
      {(control) => (
        <input
          {...control}
          type="text"
          value={clue}
          maxLength={200}
          autoComplete="off"
          onChange={(event) => {
            act.set('clue', event.target.value);
            act.remove('pick'); // it was chosen among the answers to another clue
          }}
        />
      )}
    </Field>
  );
}

function Result({ id, model, picked, act }: { id: string; model: Model; picked: boolean; act?: WidgetActions }) {
  const { result } = model;
  if (!result) return <p className="soft">This page belongs to no machine, so there is no chart to ask.</p>;
  switch (result.outcome) {
    case 'empty':
      return (
        <p className="soft">Give any clue: a switch number, a name, the colours of a wire such as grey-orange, or a pin such as A3J4-7.</p>
      );
    case 'none':
      return (
        <div role="status">
          <p className="lead">Nothing fits “{result.clue}”.</p>
          <ul className="advice">
            {result.advice.map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
        </div>
      );
    case 'several':
      return <Several result={result} act={act} />;
    case 'one':
      return <Answer idPrefix={id} result={result} again={act && picked ? () => act.remove('pick') : undefined} />;
  }
}

/** Each reading with its reasons. Who may write chooses one for everybody. */
function Several({ result, act }: { result: Extract<LookupResult, { outcome: 'several' }>; act?: WidgetActions }) {
  return (
    <>
      <p role="status">
        <b>“{result.clue}” fits several.</b> {act && 'Which one?'}
      </p>
      <ul className="picks">
        {result.candidates.map((candidate) => {
          const pick = `${candidate.kind}:${candidate.id}`;
          const inside = (
            <>
              <b>{candidate.title}</b>
              <span>{candidate.reasons.join('; ')}</span>
            </>
          );
          return (
            <li key={pick}>
              {act ? (
                <button type="button" className="pick" onClick={() => act.set('pick', pick)}>
                  {inside}
                </button>
              ) : (
                <div className="pick">{inside}</div>
              )}
            </li>
          );
        })}
      </ul>
      {act && (
        <p className="actions">
          <Button onClick={() => act.set('clue', '')}>Start again</Button>
        </p>
      )}
    </>
  );
}
