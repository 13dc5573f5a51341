/** One line as a graph of its harness: edges are what can break, nodes are what they join. */
import type { Step } from '../../chart/schema';
import type { Chart, Tap } from '../../chart/types';

export interface Edge {
  from: string;
  to: string;
  piece: Piece;
}
/** Something in the line that can break. */
export type Piece =
  | { is: 'joint'; pin: string }
  | { is: 'terminal'; pin: string }
  | { is: 'run'; pin: string; from: string; to: string } // a wire and its joint at the far end
  | { is: 'splice'; pin: string; name: string }
  | { is: 'inline'; pin: string; through: string } // where the halves of an in-line connector meet, with a crimp on either side
  | { is: 'tail'; number: string };

export const board = 'board';
const lug = (number: string) => `lug ${number}`;

/** The edges of one line, from the board to the lug of every switch on it. */
export function edgesOf(chart: Chart, net: string, numbers: readonly string[]): Edge[] {
  const edges: Edge[] = [];
  const taps = chart.taps.get(net) ?? [];
  for (const tap of taps) edges.push(...tapEdges(chart, tap, new Set(numbers)));
  const placed = new Set(edges.flatMap(({ piece }) => (piece.is === 'run' ? [piece.to] : [])));
  for (const number of numbers.filter((n) => !placed.has(n))) {
    // The chart does not say how this one hangs on the line: one run of its own, from the tap if there is only one.
    const [only] = taps;
    const pin = taps.length === 1 && only ? only.pin : '';
    edges.push({ from: pin === '' ? board : `pin ${pin}`, to: `at ${number}`, piece: { is: 'run', pin, from: '', to: number } });
  }
  for (const number of numbers) edges.push({ from: `at ${number}`, to: lug(number), piece: { is: 'tail', number } });
  return edges;
}

/** Goes on through an in-line connector, which stands once: two chains behind one tap may part beyond it. Where it comes to, and how that is called. */
export function throughInline(edges: Edge[], node: string, last: string, pin: string, inline: string): [node: string, last: string] {
  const [near, far] = [`in ${inline}`, `out ${inline}`];
  if (!edges.some((edge) => edge.to === near)) {
    edges.push({ from: node, to: near, piece: { is: 'run', pin, from: last, to: inline } });
    edges.push({ from: near, to: far, piece: { is: 'inline', pin, through: inline } });
  }
  return [far, inline];
}

function tapEdges(chart: Chart, { pin }: Tap, onLine: ReadonlySet<string>): Edge[] {
  const edges: Edge[] = [
    { from: board, to: `joint ${pin}`, piece: { is: 'joint', pin } },
    { from: `joint ${pin}`, to: `pin ${pin}`, piece: { is: 'terminal', pin } },
  ];
  const walk = (steps: readonly Step[], at: string, from: string) => {
    let node = at;
    let last = from;
    for (const step of steps) {
      if ('switch' in step) {
        if (!onLine.has(step.switch)) continue;
        const next = `at ${step.switch}`;
        edges.push({ from: node, to: next, piece: { is: 'run', pin, from: last, to: step.switch } });
        node = next;
        last = step.switch;
      } else if ('inline' in step) {
        [node, last] = throughInline(edges, node, last, pin, step.inline);
      } else if ('splice' in step) {
        const next = `splice ${step.splice}`;
        edges.push({ from: node, to: next, piece: { is: 'splice', pin, name: step.splice } });
        for (const branch of step.branches) walk(branch, next, `splice ${step.splice}`);
      }
    }
  };
  for (const chain of chart.machine.chains.filter((c) => c.tap === pin)) walk(chain.steps, `pin ${pin}`, '');
  return edges;
}

/** Switches whose lug can no longer be reached from the board when these edges are gone. */
export function lostWithout(edges: readonly Edge[], gone: (edge: Edge) => boolean, numbers: readonly string[]): Set<string> {
  const next = new Map<string, string[]>();
  const link = (a: string, b: string) => {
    const list = next.get(a);
    if (list) list.push(b);
    else next.set(a, [b]);
  };
  for (const edge of edges) {
    if (gone(edge)) continue;
    link(edge.from, edge.to);
    link(edge.to, edge.from);
  }
  const reached = new Set([board]);
  const queue = [board];
  for (let node = queue.pop(); node !== undefined; node = queue.pop())
    for (const other of next.get(node) ?? []) {
      if (reached.has(other)) continue;
      reached.add(other);
      queue.push(other);
    }
  return new Set(numbers.filter((number) => !reached.has(lug(number))));
}
