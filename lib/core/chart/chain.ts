/** How the harness runs behind a tap, read from the steps of a chain. */
import type { Step } from './schema';

/** Switches in order from the board. */
export const switchesOf = (steps: readonly Step[]): string[] =>
  steps.flatMap((step) => ('switch' in step ? [step.switch] : step.branches.flatMap(switchesOf)));

/** Joints passed from the board to each switch: `splice S2` and the lugs of switches on the way, its own lug last. */
export function pathsOf(steps: readonly Step[], before: readonly string[] = []): Map<string, string[]> {
  const paths = new Map<string, string[]>();
  let passed = [...before];
  for (const step of steps) {
    passed = [...passed, 'switch' in step ? step.switch : `splice ${step.splice}`];
    const here = 'switch' in step ? [[step.switch, passed] as const] : step.branches.flatMap((branch) => [...pathsOf(branch, passed)]);
    for (const [number, path] of here) if (!paths.has(number)) paths.set(number, path);
  }
  return paths;
}

/** First thing behind a tap, in words: "46 Spinner", or "Splice S2, then 16 and 46". */
export function firstInWords(steps: readonly Step[], nameOf: (number: string) => string): string {
  const first = steps[0];
  if (!first) return '';
  if ('switch' in first) return `${first.switch} ${nameOf(first.switch)}`.trim();
  const nexts = first.branches.flatMap((branch) => {
    const next = branch[0];
    return next ? ['switch' in next ? next.switch : `splice ${next.splice}`] : [];
  });
  const list = nexts.length < 2 ? nexts.join('') : `${nexts.slice(0, -1).join(', ')} and ${nexts.at(-1)}`;
  return `Splice ${first.splice}${list ? `, then ${list}` : ''}`;
}
