/** Chains as rows of a table, and back: a step a row, its place written as `2.1.3`. */
import type { Json } from '../../rows';
import type { Chain, Step } from '../../schema';

export type ChainRow = { [key: string]: Json };

const emptyBranch = 'empty branch';

export const rowsOfChains = (chains: readonly Chain[]): ChainRow[] =>
  chains.flatMap(({ tap, steps }, i) => rowsOfSteps(steps, '').map((row) => ({ chain: i + 1, tap, ...row })));

function rowsOfSteps(steps: readonly Step[], before: string): ChainRow[] {
  return steps.flatMap((step, i): ChainRow[] => {
    const at = `${before}${i + 1}`;
    if ('switch' in step) return [{ step: at, what: 'switch', number: step.switch }];
    if ('load' in step) return [{ step: at, what: 'load', number: step.load }];
    if ('lamp' in step) return [{ step: at, what: 'lamp', number: step.lamp }];
    if ('inline' in step) return [{ step: at, what: 'in-line', number: step.inline }];
    const branches = step.branches.flatMap((branch, b) =>
      branch.length > 0 ? rowsOfSteps(branch, `${at}.${b + 1}.`) : [{ step: `${at}.${b + 1}`, what: emptyBranch }],
    );
    return [{ step: at, what: 'splice', number: step.splice }, ...branches];
  });
}

/** Chains in order of their rows; `wrong`: index of the first row of each chain that has no place in it. */
export function chainsOfRows(rows: readonly ChainRow[]): { chains: Chain[]; wrong: number[] } {
  const chains: Chain[] = [];
  const wrong: number[] = [];
  let current: Json | undefined;
  let whole = true;
  for (const [i, row] of rows.entries()) {
    if (row.chain !== current || chains.length === 0) {
      current = row.chain;
      whole = true;
      chains.push({ tap: String(row.tap ?? ''), steps: [] });
    }
    const path = String(row.step ?? '')
      .split('.')
      .map(Number);
    if (!whole || putStep(chains.at(-1)?.steps ?? [], path, row)) continue;
    whole = false;
    wrong.push(i);
  }
  return { chains, wrong };
}

/** Puts a step at its place; the steps before it must be there. */
function putStep(steps: Step[], [index = 0, branch, ...rest]: number[], row: ChainRow): boolean {
  if (branch === undefined) {
    const number = String(row.number ?? '');
    if (index !== steps.length + 1) return false;
    if (row.what === 'switch') steps.push({ switch: number });
    else if (row.what === 'load') steps.push({ load: number });
    else if (row.what === 'lamp') steps.push({ lamp: number });
    else if (row.what === 'in-line') steps.push({ inline: number });
    else if (row.what === 'splice') steps.push({ splice: number, branches: [] });
    else return false;
    return true;
  }
  const splice = steps[index - 1];
  if (!splice || !('branches' in splice)) return false;
  const { branches } = splice;
  if (branch === branches.length + 1) branches.push([]);
  const into = branches[branch - 1];
  if (!into || branch !== branches.length) return false;
  return rest.length === 0 ? row.what === emptyBranch : putStep(into, rest, row);
}
