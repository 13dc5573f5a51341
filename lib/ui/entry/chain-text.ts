/** How the harness runs behind a pin, in one line: `X1-4 > 16 > 46 > S2 (26 > 36 | L3)`. A lamp, and what could be mistaken, says what it is. */
import { splitInline } from '@/lib/core/chart/inline';
import type { Step } from '@/lib/core/chart/schema';
import type { CellType } from './types';

interface Numbers {
  switches: ReadonlySet<string>;
  loads: ReadonlySet<string>;
}

export const showSteps = (steps: readonly Step[], numbers: Numbers): string => steps.map((step) => showStep(step, numbers)).join(' > ');

function showStep(step: Step, numbers: Numbers): string {
  if ('splice' in step) return `${step.splice} (${step.branches.map((branch) => showSteps(branch, numbers)).join(' | ')})`;
  if ('lamp' in step) return `lamp ${step.lamp}`;
  if ('inline' in step) return step.inline;
  if ('load' in step)
    return numbers.loads.has(step.load) && !numbers.switches.has(step.load) && !splitInline(step.load) ? step.load : `load ${step.load}`;
  return (numbers.switches.has(step.switch) || !numbers.loads.has(step.switch)) && !splitInline(step.switch)
    ? step.switch
    : `switch ${step.switch}`;
}

/** Null when it cannot be read: a bracket without its partner, or nothing between two signs. */
export function readSteps(text: string, numbers: Numbers): Step[] | null {
  const tokens =
    text
      .match(/[()|]|>|→|,|[^()|>→,]+/g)
      ?.map((token) => token.trim())
      .filter(Boolean) ?? [];
  let at = 0;
  const list = (inside: boolean): Step[] | null => {
    const steps: Step[] = [];
    if (inside && (tokens[at] === ')' || tokens[at] === '|')) return steps;
    for (;;) {
      const token = tokens[at];
      if (token === undefined || /^[()|>→,]$/.test(token)) return null;
      at += 1;
      if (tokens[at] === '(') {
        const branches = branchList();
        if (!branches) return null;
        steps.push({ splice: token, branches });
      } else steps.push(stepOf(token, numbers));
      const next = tokens[at];
      if (next === '>' || next === '→' || next === ',') at += 1;
      else return steps;
    }
  };
  const branchList = (): Step[][] | null => {
    const branches: Step[][] = [];
    do {
      at += 1;
      const branch = list(true);
      if (!branch) return null;
      branches.push(branch);
    } while (tokens[at] === '|');
    if (tokens[at] !== ')') return null;
    at += 1;
    return branches;
  };
  const steps = list(false);
  return steps && at === tokens.length ? steps : null;
}

function stepOf(token: string, { switches, loads }: Numbers): Step {
  const [, word = '', number = ''] = /^(switch|sw|load|lamp)\s+(.+)$/i.exec(token) ?? [];
  if (/^lamp$/i.test(word)) return { lamp: number };
  if (/^load$/i.test(word)) return { load: number };
  if (word) return { switch: number };
  if (splitInline(token.toUpperCase())) return { inline: token.toUpperCase() };
  return loads.has(token) && !switches.has(token) ? { load: token } : { switch: token };
}

export const steps: CellType = {
  show: (value, around) => (Array.isArray(value) ? showSteps(value as Step[], around) : ''),
  read: (cell, around) => {
    const read = readSteps(cell, around);
    return read
      ? { ok: true, value: read }
      : {
          ok: false,
          message: `“${cell}” is no way along the harness.`,
          mend: 'Write numbers in order from the board, such as 16 > 46; a splice as S2 (26 > 36 | 56), an in-line connector as X1-4.',
        };
  },
};
