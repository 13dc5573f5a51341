/** How loads or lamps hang on one line: the parts of its harness, each with those that lose every path to the board without it. */
import { endOf, type Hung } from '../../chart/chain';
import type { Step } from '../../chart/schema';
import type { Chart } from '../../chart/types';
import { board, type Edge, lostWithout, throughInline } from '../switch/line-tree';
import { perChart } from './per-chart';

export interface LinePart {
  id: string; // "tap A2J3-5", "run A2J3-5 L3 L5"
  is: 'tap' | 'run' | 'splice' | 'inline';
  pin: string;
  from: string; // of a run: the lug or splice before it, empty at the pin
  to: string; // of a run: the lug or splice it ends at; of a splice: its name; of an in-line connector: its position, X1-4
  serves: readonly string[];
  /** Chance that it serves them at all: below 1 where the chart does not say which of several taps they hang on. */
  sure: number;
  /** Pins of the same connector that carry the line side by side. */
  parallel: number;
}

export interface LineParts {
  parts: readonly LinePart[];
  unplaced: readonly string[]; // those that no chain of the chart names, on a line with more than one tap
}
/** Parts of the line. */
export const partsOf = perChart(workedOut, (net: string, kind: Hung, numbers: readonly string[]) => `${net} ${kind} ${numbers.join(',')}`);

function workedOut(chart: Chart, net: string, kind: Hung, numbers: readonly string[]): LineParts {
  const taps = chart.taps.get(net) ?? [];
  const edges: Edge[] = [];
  for (const { pin } of taps) {
    edges.push({ from: board, to: `pin ${pin}`, piece: { is: 'terminal', pin } });
    for (const chain of chart.machine.chains.filter((c) => c.tap === pin)) walk(edges, chain.steps, kind, pin);
  }
  const placed = new Set(edges.flatMap(({ piece }) => (piece.is === 'run' ? [piece.to] : [])));
  const missing = numbers.filter((n) => !placed.has(n));
  const [only] = taps;
  if (taps.length === 1 && only)
    for (const to of missing) edges.push({ from: `pin ${only.pin}`, to: `lug ${to}`, piece: { is: 'run', pin: only.pin, from: '', to } });
  const served = numbers.filter((n) => taps.length === 1 || placed.has(n));
  const parts = edges.flatMap((edge): LinePart[] => {
    const serves = [...lostWithout(edges, (e) => e === edge, served)].sort();
    return serves.length > 0 ? [{ ...described(edge), serves, sure: 1, parallel: 1 }] : [];
  });
  const unplaced = taps.length > 1 ? missing : [];
  return { parts: unplaced.length > 0 ? [...parts, ...unknownTaps(chart, net, unplaced)] : parts, unplaced };
}

function walk(edges: Edge[], all: readonly Step[], kind: Hung, pin: string) {
  const go = (steps: readonly Step[], at: string, from: string) => {
    let node = at;
    let last = from;
    for (const step of steps) {
      const end = endOf(step);
      if (end) {
        if (end.kind !== kind) continue;
        edges.push({ from: node, to: `lug ${end.number}`, piece: { is: 'run', pin, from: last, to: end.number } });
        node = `lug ${end.number}`;
        last = end.number;
      } else if ('inline' in step) {
        [node, last] = throughInline(edges, node, last, pin, step.inline);
      } else if ('splice' in step) {
        const name = `splice ${step.splice}`;
        edges.push({ from: node, to: name, piece: { is: 'splice', pin, name: step.splice } });
        for (const branch of step.branches) go(branch, name, name);
        node = name;
        last = name;
      }
    }
  };
  go(all, `pin ${pin}`, '');
}

function described({ piece }: Edge): Pick<LinePart, 'id' | 'is' | 'pin' | 'from' | 'to'> {
  if (piece.is === 'splice') return { id: `splice ${piece.name}`, is: 'splice', pin: piece.pin, from: '', to: piece.name };
  if (piece.is === 'inline') return { id: `inline ${piece.through}`, is: 'inline', pin: piece.pin, from: '', to: piece.through };
  if (piece.is === 'run') {
    const { pin, from, to } = piece;
    return { id: `run ${pin} ${from} ${to}`.replace(/ +/g, ' '), is: 'run', pin, from, to };
  }
  const pin = 'pin' in piece ? piece.pin : '';
  return { id: `tap ${pin}`, is: 'tap', pin, from: '', to: '' };
}

/** One part a connector: they may hang on any of them, and pins side by side stand in for each other. */
function unknownTaps(chart: Chart, net: string, serves: readonly string[]): LinePart[] {
  const byHeader = new Map<string, string[]>();
  for (const tap of chart.taps.get(net) ?? []) byHeader.set(tap.header, [...(byHeader.get(tap.header) ?? []), tap.pin]);
  return [...byHeader.values()].flatMap((pins) => {
    const [pin] = pins;
    const part = { is: 'tap' as const, from: '', to: '', serves, sure: 1 / byHeader.size, parallel: pins.length };
    return pin ? [{ ...part, id: `tap ${pin}`, pin }] : [];
  });
}
