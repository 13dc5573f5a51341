/** What taking a paste over would change, what differs from the chart, and what of it would be left. */
import type { Applied, Conflicts, EntryChart, TableFinding } from '@/lib/core/chart/entry';
import { changeWords } from './change-words';
import { count } from './paste-words';
import type { PasteRead } from './use-paste';

const mostShown = 12;
const firstShown = 3; // problems of one kind
const mostOpened = 100;

/** How many cells and rows taking it over would change. */
export const takes = (kind: 'machine' | 'design', { changes }: Applied, withDesign: boolean) =>
  (kind === 'machine' ? changes.machine.length : 0) + (kind === 'design' || withDesign ? changes.design.length : 0);

/** The same in words. */
export function takenWords(kind: 'machine' | 'design', { changes }: Applied, withDesign: boolean): string {
  const machine = kind === 'machine' ? changeWords(changes.machine) : '';
  const design = kind === 'design' || withDesign ? changeWords(changes.design) : '';
  return [machine, kind === 'machine' && design ? `${design} of the board design` : design].filter(Boolean).join('; ');
}

interface OutcomeProps {
  id: string;
  kind: 'machine' | 'design';
  shown: PasteRead;
  chart: EntryChart;
  sharers: readonly string[];
  /** Something is asked above on which it hangs. */
  waits: boolean;
  conflicts: Conflicts;
  onConflicts(conflicts: Conflicts): void;
  withDesign: boolean;
  onWithDesign(on: boolean): void;
}

/** What taking it over would change, and what of it would be left. */
export function Outcome({ id, kind, shown, chart, sharers, waits, conflicts, onConflicts, withDesign, onWithDesign }: OutcomeProps) {
  const { applied, read } = shown;
  const differs = applied.findings.filter((f) => f.rule === 'differs');
  const others = [...read.findings, ...applied.findings.filter((f) => f.rule !== 'differs' && f.rule !== 'not-placed')];
  const onMachine = kind === 'design' && applied.changes.machine.length > 0;
  return (
    <>
      <p>
        <b>
          {takes(kind, applied, withDesign) === 0
            ? waits
              ? 'Nothing of it changes the chart yet: answer what is asked above.'
              : 'Nothing of it would change the chart.'
            : `It puts in ${takenWords(kind, applied, withDesign)}.`}
        </b>{' '}
        {onMachine && 'What names switches, lamps and loads belongs to a machine: paste it there.'}
      </p>
      {kind === 'machine' && applied.changes.design.length > 0 && (
        <p className="choices">
          <label>
            <input type="checkbox" checked={withDesign} onChange={(event) => onWithDesign(event.target.checked)} />
            Change the board design {chart.design.id} too: {changeWords(applied.changes.design)}
            {sharers.length > 0 && `, shared with ${sharers.slice(0, 4).join(', ')}${sharers.length > 4 ? ' and others' : ''}`}
          </label>
        </p>
      )}
      {differs.length > 0 && (
        <fieldset className="ask-one">
          <legend>{count(differs.length, 'cell says', 'cells say')} something else than the chart. Which holds?</legend>
          <div className="choices">
            {(['keep', 'replace'] as const).map((value) => (
              <label key={value}>
                <input type="radio" name={`${id}-conflicts`} checked={conflicts === value} onChange={() => onConflicts(value)} />
                {value === 'keep' ? 'What the chart has' : 'What was pasted'}
              </label>
            ))}
          </div>
          <ul className="problems">
            {differs.slice(0, mostShown).map((f) => (
              <li key={`${f.row} ${f.column} ${f.message}`}>{f.message}</li>
            ))}
          </ul>
        </fieldset>
      )}
      <LeftOver left={read.not.map((n) => `Row ${n.row}: “${n.text}”: ${n.why}`)} />
      <Problems findings={others} />
    </>
  );
}

/** The first of each kind in full; the others of that kind are opened. */
function Problems({ findings }: { findings: readonly TableFinding[] }) {
  const kinds = new Map<string, TableFinding[]>();
  for (const f of findings) kinds.set(f.rule, [...(kinds.get(f.rule) ?? []), f]);
  return [...kinds].map(([rule, all]) => (
    <div key={rule}>
      <ul className="problems">{all.slice(0, firstShown).map(problem)}</ul>
      {all.length > firstShown && (
        <details>
          <summary>and {count(all.length - firstShown, 'more', 'more')} of this kind</summary>
          <ul className="problems">{all.slice(firstShown, mostOpened).map(problem)}</ul>
          {all.length > mostOpened && <p className="soft note">and {count(all.length - mostOpened, 'more', 'more')}</p>}
        </details>
      )}
    </div>
  ));
}
const problem = (f: TableFinding) => (
  <li key={`${f.rule} ${f.row} ${f.column} ${f.message}`}>
    <b>{f.message}</b>{' '}
    <span>
      {f.mend} {f.row > 0 && <span className="soft note">row {f.row}</span>}
    </span>
  </li>
);

export function LeftOver({ left }: { left: readonly string[] }) {
  if (left.length === 0) return null;
  return (
    <div className="left-over">
      <h3>Not understood</h3>
      <ul className="problems">
        {left.slice(0, mostShown).map((words, i) => (
          <li key={i}>{words}</li>
        ))}
      </ul>
      {left.length > mostShown && <p className="soft note">and {count(left.length - mostShown, 'more', 'more')}</p>}
    </div>
  );
}
