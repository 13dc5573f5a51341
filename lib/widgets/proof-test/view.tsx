/** Proof test: the run counted large, what is still to press, and what it proves. Made for one hand and a dirty thumb. */
import { type Counting, levels, levelWords, nextWords, pressCaution, provesLines, quietWords, verdict } from '@/lib/core/proof';
import { Caution, Empty, Notice, Widget } from '@/lib/ui/blocks';
import { GateMarkSign, TallyGates } from '@/lib/ui/drawings';
import type { WidgetActions, WidgetViewProps } from '../definition';
import type { Model } from './definition';
import { EndedRuns, ThreeWays } from './on-record';
import { Presses, Spread } from './presses';
import { SetUp, Watch } from './set-up';

export function View({ id, model, act }: WidgetViewProps<Model>) {
  const { proof } = model;
  const quiet = quietWords(proof.quiet);
  return (
    <Widget title={proof.what ? `Proof test, ${proof.what}` : 'Proof test'}>
      {act && <SetUp id={id} model={model} act={act} />}
      {proof.state === 'empty' && <NothingYet writing={act !== undefined} />}
      {proof.state === 'refused' && (
        <Notice title={proof.message}>
          <p>{proof.mend}</p>
        </Notice>
      )}
      {proof.state !== 'empty' && proof.state !== 'refused' && <Counted id={id} model={model} proof={proof} act={act} />}
      {quiet && <p className="proof-quiet">{quiet}</p>}
      {act && <Watch id={id} model={model} act={act} />}
    </Widget>
  );
}

function NothingYet({ writing }: { writing: boolean }) {
  return (
    <Empty title="Nothing counted before the mend yet">
      {writing
        ? 'Press it 20 times before anything is mended, warm if that is when it fails, and write down how many it missed. Without that number no run of clean presses proves a mend.'
        : 'Whoever writes on this page counts how many presses are missed before the mend.'}
    </Empty>
  );
}

function Counted({ id, model, proof, act }: { id: string; model: Model; proof: Counting; act?: WidgetActions }) {
  return (
    <>
      {act && (
        <Caution title={`${pressCaution.title}.`} electric>
          {pressCaution.text}
        </Caution>
      )}
      <div className="proof">
        <p className="proof-count" aria-live="polite">
          {proof.clean}
        </p>
        <div>
          <p className="proof-lead">
            clean {proof.clean === 1 ? 'press' : 'presses'} in a row{proof.ended.length > 0 && `, run ${proof.ended.length + 1}`}
          </p>
          <p>{nextWords(proof)}</p>
          <p className="proof-verdict">{verdict(proof)}</p>
        </div>
      </div>
      <Gates proof={proof} />
      {act && <Presses id={id} model={model} proof={proof} act={act} />}
      <div className={act && 'print-only'}>
        <Spread proof={proof} />
      </div>
      <div className="pair">
        <section>
          <h3>What the count proves</h3>
          <ul className="proves">
            {provesLines(proof).map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
        </section>
        {proof.ended.length > 0 && <EndedRuns proof={proof} />}
      </div>
      <ThreeWays proof={proof} />
    </>
  );
}

const fewBars = 60; // up to here both goals are drawn, beyond it only the next
const mostBars = 150; // what a screen of a phone holds

function Gates({ proof }: { proof: Counting }) {
  const { clean, needed, next } = proof;
  const total = Math.max(clean, needed[99] <= fewBars || next === null ? needed[99] : needed[next]);
  const from = total > mostBars ? Math.floor(clean / 50) * 50 : 0;
  const to = Math.min(total, from + mostBars);
  return (
    <>
      <TallyGates
        done={clean}
        total={to}
        from={from}
        marks={levels.map((level) => ({ at: needed[level], shape: level === 95 ? 'open' : 'full' }))}
        label={`${clean} of ${total}`}
      />
      {from > 0 && <p className="note soft">Drawn from press {from + 1} on.</p>}
      <ul className="goals">
        {levels.map((level) => (
          <li key={level}>
            <GateMarkSign shape={level === 95 ? 'open' : 'full'} />
            <span>
              {clean >= needed[level] ? `${needed[level]} reached: ` : `at ${needed[level]}: `}
              <b>{levelWords(level)}</b>
            </span>
          </li>
        ))}
      </ul>
    </>
  );
}
