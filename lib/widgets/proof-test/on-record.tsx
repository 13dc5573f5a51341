/** What stays on record: runs that a miss ended, and how many presses each way of counting asks for. */
import { type Counting, cleanOf, conditionOf, conditions, levels, levelWords, percent, type Rule, type Run, rules } from '@/lib/core/proof';
import { whoAndWhen } from '@/lib/ui/blocks';

export function EndedRuns({ proof }: { proof: Counting }) {
  return (
    <section>
      <h3>Runs on record</h3>
      <ul className="ruled">
        {proof.ended.map((run, index) => (
          <li key={index}>
            <span className="id">{cleanOf(run)}</span>
            <span>
              Run {index + 1}, clean{counts(run) && `: ${counts(run)}`}. Then missed
              {run.misses.length > 1 && ` ${run.misses.length} times`}: {run.misses.map((m) => conditionOf(m.condition)?.name).join('; ')}.
            </span>
            <span className="soft">{run.misses.map(whoAndWhen).join(', ')}</span>
          </li>
        ))}
      </ul>
      <p className="note soft">
        They never help the run that goes on, and it has to be longer for them: repeating until lucky proves nothing.
      </p>
    </section>
  );
}

const counts = (run: Run) => conditions.flatMap(({ id, name }) => (run.clean[id] > 0 ? [`${run.clean[id]} ${name}`] : [])).join('; ');

function ruleWords(rule: Rule, { before }: Counting): string {
  if (rule === 'plugIn') return `${before.missed} of ${before.presses} taken for the true share (optimistic)`;
  if (rule === 'cautious') return `The low end, ${percent(before.low)}, taken for it (cautious)`;
  return `Chance in ${before.missed} of ${before.presses} allowed for (used here)`;
}

export function ThreeWays({ proof }: { proof: Counting }) {
  return (
    <details className="three-ways">
      <summary>How many clean presses, three ways</summary>
      <table>
        <thead>
          <tr>
            <th>Before the mend</th>
            {levels.map((level) => (
              <th key={level} className="n">
                {levelWords(level)}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rules.map((rule) => (
            <tr key={rule}>
              <td>{ruleWords(rule, proof)}</td>
              {levels.map((level) => (
                <td key={level} className="n">
                  {proof.byRule[rule][level]}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  );
}
