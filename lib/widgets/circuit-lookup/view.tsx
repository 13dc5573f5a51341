/** Circuit lookup: the clue, and what it leads to. */
import { Widget } from '@/lib/ui/blocks';
import { Field } from '@/lib/ui/controls';
import { ByPhoto } from '@/lib/ui/sampler/by-photo';
import type { WidgetActions, WidgetViewProps } from '../definition';
import type { Model } from './definition';
import { Result } from './result';

export function View({ id, model, state, act }: WidgetViewProps<Model>) {
  return (
    <Widget title="Circuit lookup">
      {act ? <Clue id={id} clue={model.clue} act={act} /> : model.clue && <p className="soft">Asked: “{model.clue}”</p>}
      {act && model.chart && (
        <ByPhoto
          id={`${id}-sampler`}
          chart={model.chart}
          onPick={({ wire }) => {
            act.set('clue', wire);
            act.remove('pick');
          }}
        />
      )}
      <Result
        id={id}
        result={model.result}
        chart={model.chart}
        removed={model.removed}
        picked={typeof state.pick === 'string' && state.pick !== ''}
        act={act}
      />
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
