/** What stands behind a pin, written in one cell: `16, 46, 26` in order from the board; a splice as `S2 (16 | 46, 26)`. */
import type { Step } from '../../schema';

/** The step that a number names; null: there is no such thing. */
type Named = (number: string) => Step | null;

/** The steps of a cell; null when some of it is neither a number of this machine nor a splice with its branches. */
export function readGoesTo(text: string, named: Named): Step[] | null {
  const tokens = text.match(/[(){}[\]|]|->|[→>;,\n]|[^(){}[\]|→>;,\n-]+(?:-(?!>)[^(){}[\]|→>;,\n-]*)*/g) ?? [];
  let at = 0;
  const steps = chain();
  return steps !== null && at === tokens.length && steps.length > 0 ? steps : null;

  function chain(): Step[] | null {
    const found: Step[] = [];
    for (; at < tokens.length; at += 1) {
      const token = tokens[at]?.trim() ?? '';
      if (/^[)}\]|]$/.test(token)) break;
      if (token === '' || /^(?:->|[→>;,])$/.test(token)) continue;
      const isSplice = /^[({[]$/.test(tokens[at + 1]?.trim() ?? '');
      const step = isSplice ? splice(token) : named(token);
      if (step === null) return null;
      found.push(step);
    }
    return found;
  }

  /** Leaves off at its closing bracket. */
  function splice(name: string): Step | null {
    const branches: Step[][] = [];
    at += 1;
    do {
      at += 1;
      const branch = chain();
      if (branch === null) return null;
      branches.push(branch);
    } while (tokens[at] === '|');
    return /^[)}\]]$/.test(tokens[at] ?? '') ? { splice: name.replace(/^splice\s+/i, ''), branches } : null;
  }
}
