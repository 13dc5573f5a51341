/**
 * Switches that share something with a circuit, and what each clears when it answers. What two switches share is told per tap: one that
 * hangs on another tap of the line says nothing about this connector.
 */
import { netTitle } from '../chart/names';
import type { Chart, Circuit } from '../chart/types';
import { type Run, runOf, tapsOf } from './runs';
import type { Sibling } from './types';

interface Mate {
  circuit: Circuit;
  /** Joints of the way to our switch that the way to this one passes too; null on another tap or when the chart does not tell. */
  shared: number | null;
  beyond: number; // joints of its own way past the shared ones
  otherTap: boolean;
  clears: string;
}

/** All others on the circuit's lines, then those on the neighbouring pins of its connectors. */
export function siblingsOf(chart: Chart, circuit: Circuit): Sibling[] {
  const onLines = circuit.nets.flatMap((net) =>
    matesOf(chart, circuit, net).map((mate) => siblingOf(mate, mate.shared === null ? axisOf(chart, net) : 'branch')),
  );
  return [...onLines, ...neighboursOf(chart, circuit)];
}

const perLine = 2;

/** Press these first: two on each line, chosen so that their answers cut the way from the board in half. */
export function pressOf(chart: Chart, circuit: Circuit): Sibling[] {
  const press = circuit.nets.flatMap((net) => {
    const own = runOf(chart, circuit.number, net);
    const ranked = own ? halving(matesOf(chart, circuit, net), own) : matesOf(chart, circuit, net);
    return ranked.slice(0, perLine).map((mate) => siblingOf(mate, axisOf(chart, net)));
  });
  return press.length > 0 ? press : neighboursOf(chart, circuit).slice(0, perLine);
}

const siblingOf = ({ circuit, clears }: Mate, shares: Sibling['shares']): Sibling => ({
  number: circuit.number,
  name: circuit.name,
  shares,
  clears,
});

/** A direct line has one switch as a rule; two on one input share what a column would be. */
const axisOf = (chart: Chart, net: string): Sibling['shares'] => (chart.nets.get(net)?.kind === 'switch-row' ? 'row' : 'column');

function matesOf(chart: Chart, circuit: Circuit, net: string): Mate[] {
  const own = runOf(chart, circuit.number, net);
  return chart.circuits.filter((c) => c !== circuit && c.nets.includes(net)).map((c) => mateOf(chart, circuit, own, c, net));
}

function mateOf(chart: Chart, circuit: Circuit, own: Run | null, other: Circuit, net: string): Mate {
  const line = lower(netTitle(chart, net));
  const theirs = runOf(chart, other.number, net);
  const unknown = { circuit: other, shared: null, beyond: 0 };
  if (!own || !theirs) {
    const clears = `When ${other.number} answers, ${line} works at the board; the chart does not say which wire the two share.`;
    return { ...unknown, otherTap: false, clears };
  }
  if (own.tap.pin !== theirs.tap.pin) {
    const clears = `${other.number} hangs on ${theirs.tap.pin}: when it answers, ${line} works at the board, but ${own.tap.pin} stays in doubt.`;
    return { ...unknown, otherTap: true, clears };
  }
  const parting = own.path.findIndex((joint, i) => theirs.path[i] !== joint);
  const shared = parting < 0 ? own.path.length : parting;
  const through = `When ${other.number} answers, ${line} works from the board through ${own.tap.pin}`;
  const last = own.path[shared - 1];
  const clears =
    shared === own.path.length
      ? `${through} as far as the lug of ${circuit.number} itself.`
      : `${through}${last ? ` as far as ${last}` : ''}; the rest of the way to ${circuit.number} stays in doubt.`;
  return { circuit: other, shared, beyond: theirs.path.length - shared, otherTap: false, clears };
}

/** The nearest that clears the whole way, the one that parts it in the middle, one on another tap, then the rest, nearest first. */
function halving(mates: Mate[], own: Run): Mate[] {
  const known = mates.filter((m): m is Mate & { shared: number } => m.shared !== null);
  const whole = known.filter((m) => m.shared === own.path.length).sort((a, b) => a.beyond - b.beyond);
  const part = known.filter((m) => m.shared < own.path.length);
  const off = (m: Mate & { shared: number }) => Math.abs(m.shared - own.path.length / 2);
  const middle = [...part].sort((a, b) => off(a) - off(b) || b.shared - a.shared || a.beyond - b.beyond);
  const first = [whole[0], middle[0], mates.find((m) => m.otherTap)].filter((m): m is Mate & { shared: number } => m !== undefined);
  const rest = [...part.sort((a, b) => b.shared - a.shared || a.beyond - b.beyond), ...whole, ...mates];
  return [...new Set<Mate>([...first, ...rest])];
}

/** One switch on the nearest wired pin to either side: it tells a connector that is off altogether from one bad position. */
function neighboursOf(chart: Chart, circuit: Circuit): Sibling[] {
  const seen = new Set([circuit.number]);
  return circuit.nets.flatMap((net) =>
    tapsOf(chart, circuit, net).flatMap((tap) =>
      [-1, 1].flatMap((side): Sibling[] => {
        const beside = [...chart.pins.values()]
          .filter((other) => other.header === tap.header && (other.position - tap.position) * side > 0)
          .sort((a, b) => (a.position - b.position) * side)
          .flatMap((other) => {
            const there = other.behind.flatMap((n) => chart.circuit.get(n) ?? []);
            const stranger = there.find((c) => !seen.has(c.number) && !c.nets.some((n) => circuit.nets.includes(n)));
            return stranger ? [{ pin: other.pin, stranger }] : [];
          })[0];
        if (!beside) return [];
        const { number, name } = beside.stranger;
        seen.add(number);
        const clears = `${number} is at ${beside.pin}: when it answers, ${tap.header} is not off altogether, but ${tap.pin} stays in doubt.`;
        return [{ number, name, shares: 'connector', clears }];
      }),
    ),
  );
}

const lower = (title: string) => title.charAt(0).toLowerCase() + title.slice(1);
