/** What a clue gave, in all its outcomes. */
import type { Chart } from '@/lib/core/chart/types';
import type { Candidate, LookupResult } from '@/lib/core/lookup/types';
import { Empty } from '@/lib/ui/blocks';
import { Button } from '@/lib/ui/controls';
import type { WidgetActions } from '../definition';
import { Answer } from './answer';

export interface ResultProps {
  id: string;
  result: LookupResult | null;
  chart: Chart | null;
  /** Pictures that were removed for good. */
  removed?: readonly string[];
  picked: boolean;
  act?: WidgetActions;
  /** Where a candidate leads when nothing can be chosen for everybody: the address for its `kind:id`. */
  link?: (pick: string) => string;
}

/** Whatever a clue gave: one answer, several with their reasons, none with what to try. */
export function Result({ id, result, chart, removed, picked, act, link }: ResultProps) {
  if (!result)
    return (
      <Empty title="No machine, no chart">
        This page belongs to no machine, so there is no chart to ask. Start it from a machine’s page.
      </Empty>
    );
  switch (result.outcome) {
    case 'empty':
      return (
        <p className="soft">Give any clue: a switch number, a name, the colours of a wire such as grey-orange, or a pin such as A3J4-7.</p>
      );
    case 'none':
      return (
        <>
          <div role="status">
            <p className="lead">Nothing fits “{result.clue}”.</p>
            <ul className="advice">
              {result.advice.map((line) => (
                <li key={line}>{line}</li>
              ))}
            </ul>
          </div>
          {result.guesses && result.guesses.length > 0 && (
            <>
              <h3>Guesses, if a wire has faded</h3>
              <Choices candidates={result.guesses} act={act} link={link} guessed />
              <p className="note soft">
                None of these is on the chart as you gave it. Look at the wire again where it is shaded, and press.
              </p>
            </>
          )}
        </>
      );
    case 'several':
      return <Several result={result} act={act} link={link} />;
    case 'one':
      return (
        <Answer
          idPrefix={id}
          result={result}
          chart={chart}
          removed={removed}
          again={act && picked ? () => act.remove('pick') : undefined}
        />
      );
  }
}

/** Each reading with its reasons. Who may write chooses one for everybody. */
function Several({ result, act, link }: Pick<ResultProps, 'act' | 'link'> & { result: Extract<LookupResult, { outcome: 'several' }> }) {
  return (
    <>
      <p role="status">
        <b>“{result.clue}” fits several.</b> {act && 'Which one?'}
      </p>
      <Choices candidates={result.candidates} act={act} link={link} />
      {act && (
        <p className="actions">
          <Button onClick={() => act.set('clue', '')}>Start again</Button>
        </p>
      )}
    </>
  );
}

/** Candidates to choose from; a guess says that it is one. */
function Choices({ candidates, act, link, guessed }: Pick<ResultProps, 'act' | 'link'> & { candidates: Candidate[]; guessed?: boolean }) {
  return (
    <ul className="picks">
      {candidates.map((candidate) => {
        const pick = `${candidate.kind}:${candidate.id}`;
        const inside = (
          <>
            <b>{guessed ? `Perhaps ${candidate.title}` : candidate.title}</b>
            <span>{[guessed && 'a guess', ...candidate.reasons].filter(Boolean).join('; ')}</span>
          </>
        );
        return (
          <li key={pick}>
            {act ? (
              <button type="button" className="pick" onClick={() => act.set('pick', pick)}>
                {inside}
              </button>
            ) : link ? (
              <a className="pick" href={link(pick)}>
                {inside}
              </a>
            ) : (
              <div className="pick">{inside}</div>
            )}
          </li>
        );
      })}
    </ul>
  );
}
