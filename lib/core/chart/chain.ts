/** How the harness runs behind a tap, read from the steps of a chain. */
import type { Step } from './schema';

/** What a step may name by number. */
export type Hung = 'switch' | 'load' | 'lamp';

/** What a step names: `{ kind: 'load', number: 'L3' }`; null for a splice and for an in-line connector. */
export function endOf(step: Step): { kind: Hung; number: string } | null {
  if ('switch' in step) return { kind: 'switch', number: step.switch };
  if ('load' in step) return { kind: 'load', number: step.load };
  return 'lamp' in step ? { kind: 'lamp', number: step.lamp } : null;
}

/** Everything that hangs on a chain, in order from the board. */
export const endsOf = (steps: readonly Step[]): { kind: Hung; number: string }[] =>
  steps.flatMap((step) => endOf(step) ?? ('branches' in step ? step.branches.flatMap(endsOf) : []));

const numbersOf = (kind: Hung) => (steps: readonly Step[]) => endsOf(steps).flatMap((end) => (end.kind === kind ? [end.number] : []));
/** Switches in order from the board. */
export const switchesOf = numbersOf('switch');
/** Loads in order from the board. */
export const loadsOf = numbersOf('load');
/** Matrix lamps in order from the board. */
export const lampsOf = numbersOf('lamp');

/** Each position of an in-line connector that a chain passes, with the steps beyond it. */
export const beyondEach = (steps: readonly Step[]): { pin: string; steps: Step[] }[] =>
  steps.flatMap((step, k) => ('inline' in step ? [{ pin: step.inline, steps: steps.slice(k + 1) }] : branchesOf(step).flatMap(beyondEach)));

/** Joints passed from the board to each switch (or load, or lamp): `splice S2`, `X1-4` and the lugs on the way, its own lug last. */
export function pathsOf(steps: readonly Step[], kind: Hung = 'switch', before: readonly string[] = []): Map<string, string[]> {
  const paths = new Map<string, string[]>();
  let passed = [...before];
  for (const step of steps) {
    const end = endOf(step);
    passed = [...passed, end?.number ?? jointOf(step)];
    const here = end
      ? end.kind === kind
        ? [[end.number, passed] as const]
        : []
      : branchesOf(step).flatMap((branch) => [...pathsOf(branch, kind, passed)]);
    for (const [number, path] of here) if (!paths.has(number)) paths.set(number, path);
  }
  return paths;
}

const branchesOf = (step: Step): Step[][] => ('branches' in step ? step.branches : []);
/** Of a splice `splice S2`, of an in-line connector `X1-4`. */
const jointOf = (step: Step): string => ('splice' in step ? `splice ${step.splice}` : 'inline' in step ? step.inline : '');

/** First thing behind a tap, in words: "46 Spinner", "Splice S2, then 16 and 46", or "X1-4, then 46 Spinner". */
export function firstInWords(steps: readonly Step[], nameOf: (number: string, kind: Hung) => string): string {
  const first = steps[0];
  if (!first) return '';
  const end = endOf(first);
  if (end) return `${end.number} ${nameOf(end.number, end.kind)}`.trim();
  if ('inline' in first) return [first.inline, firstInWords(steps.slice(1), nameOf)].filter(Boolean).join(', then ');
  const nexts = branchesOf(first).flatMap((branch) => {
    const next = branch[0];
    return next ? [endOf(next)?.number ?? jointOf(next)] : [];
  });
  const list = nexts.length < 2 ? nexts.join('') : `${nexts.slice(0, -1).join(', ')} and ${nexts.at(-1)}`;
  return `Splice ${jointOf(first).replace('splice ', '')}${list ? `, then ${list}` : ''}`;
}
