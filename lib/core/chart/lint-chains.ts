/** Chains: whether what they list exists, hangs on that line, and hangs there once. */
import { endOf, type Hung } from './chain';
import { lintDesignator } from './designators';
import { error, information, type Lint, rest, warning } from './finding';
import type { Step } from './schema';
import type { Chart, Finding, Tap } from './types';

/** One thing on a chain. A tail is the last thing of its branch. */
interface Place {
  kind: Hung;
  number: string;
  path: string;
  tail: boolean;
}
interface Walk {
  path: string;
  tap: Tap;
  places: Place[];
}

function placesOf(steps: readonly Step[], path: string): Place[] {
  return steps.flatMap((step, i): Place[] => {
    const at = `${path}[${i}]`;
    const end = endOf(step);
    if (end) return [{ ...end, path: `${at}.${end.kind}`, tail: i === steps.length - 1 }];
    return 'branches' in step ? step.branches.flatMap((branch, b) => placesOf(branch, `${at}.branches[${b}]`)) : [];
  });
}

export function* lintChains(chart: Chart): Lint {
  const walks: Walk[] = [];
  for (const [i, chain] of chart.machine.chains.entries()) {
    yield rest;
    const path = `chains[${i}]`;
    yield* lintDesignator(`${path}.tap`, chain.tap);
    const tap = chart.pins.get(chain.tap);
    if (tap) walks.push({ path, tap, places: placesOf(chain.steps, `${path}.steps`) });
    else yield error('chain-without-tap', `${path}.tap`, `${chain.tap} is no wired pin of the board design.`, 'Correct the pin.');
  }
  const things = yield* thingsOf(chart);
  const named = new Map<string, Thing[]>();
  for (const thing of things) named.set(keyOf(thing), [...(named.get(keyOf(thing)) ?? []), thing]);
  for (const walk of walks) {
    yield rest;
    yield* lintWalk(walk, named);
  }
  yield* lintClaims(walks);
  yield* offChain(walks, things);
}

/** A switch, load or lamp: the lines it must hang on where they have chains, and further ones whose chains may list it. */
interface Thing {
  kind: Hung;
  number: string;
  name: string;
  path: string;
  lines: string[];
  also: string[];
}

function* thingsOf({ machine, circuits, lamps, nets }: Chart): Generator<typeof rest, Thing[]> {
  const lines = new Map<string, string>();
  for (const net of nets.values()) if (!lines.has(`${net.kind} ${net.number}`)) lines.set(`${net.kind} ${net.number}`, net.id);
  const grounds = [...nets.values()].filter((net) => net.kind === 'ground').map((net) => net.id);
  // Of two with one number, or in one cell, the first is meant.
  const places = new Map<string, number>();
  const first = (key: string, i: number) => places.has(key) || places.set(key, i);
  for (const [i, d] of machine.direct.entries()) first(`direct ${d.number}`, i);
  for (const [i, s] of machine.switches.entries()) first(`${s.column} ${s.row}`, i);
  const path = (c: (typeof circuits)[number]) =>
    c.kind === 'direct' ? `direct[${places.get(`direct ${c.number}`)}]` : `switches[${places.get(`${c.column} ${c.row}`)}]`;
  const things: Thing[] = [];
  for (const c of circuits) {
    yield rest;
    const also = [...(c.kind === 'direct' || c.device === 'opto' ? grounds : []), ...(c.emitterSupply ? [c.emitterSupply] : [])];
    things.push({ kind: 'switch', number: c.number, name: c.name, path: path(c), lines: c.nets, also });
  }
  for (const [i, { number, name, net, supply }] of machine.loads.entries()) {
    yield rest;
    things.push({ kind: 'load', number, name, path: `loads[${i}]`, lines: [net, supply], also: [] });
  }
  for (const [i, { number, name, column, row }] of lamps.entries()) {
    yield rest;
    const own = [lines.get(`lamp-column ${column}`), lines.get(`lamp-row ${row}`)].flatMap((id) => id ?? []);
    things.push({ kind: 'lamp', number, name, path: `lamps[${i}]`, lines: own, also: [] });
  }
  return things;
}

const keyOf = ({ kind, number }: Pick<Thing, 'kind' | 'number'>) => `${kind} ${number}`;

function* lintWalk({ tap, places }: Walk, things: ReadonlyMap<string, readonly Thing[]>): Generator<Finding> {
  for (const { kind, number, path } of places) {
    const named = things.get(keyOf({ kind, number })) ?? [];
    const first = named[0];
    if (!first) {
      const message = `The chain of ${tap.pin} lists ${number}, which is no ${kind} here.`;
      const mend = 'Correct the number: a chain lists each thing by its own number.';
      yield kind === 'switch' ? error('chain-unknown-switch', path, message, mend) : error('chain-unknown-load', path, message, mend);
    } else if (!named.some((thing) => [...thing.lines, ...thing.also].includes(tap.net))) {
      const message = `The chain of ${tap.pin} lists ${number} ${first.name}, which is not on ${tap.net}.`;
      yield error('chain-off-line', path, message, 'Correct the number, or the tap.');
    }
  }
}

/** Things claimed twice on one line. Two taps joined through switches are a ring, which is allowed; a tail hangs in one place. */
function* lintClaims(walks: readonly Walk[]): Lint {
  const claims = new Map<string, { walk: Walk; place: Place }>();
  const rings = new Set<string>();
  for (const walk of walks) {
    yield rest;
    for (const place of walk.places) {
      const key = `${place.kind} ${place.number} ${walk.tap.net}`;
      const before = claims.get(key);
      if (!before) {
        claims.set(key, { walk, place });
        continue;
      }
      const [here, there] = [walk.tap.pin, before.walk.tap.pin];
      if (here === there) {
        yield error('chain-twice', place.path, `${place.number} stands twice behind ${here}.`, 'Remove one of the two.');
      } else if (place.tail && before.place.tail) {
        const message = `${place.number} is the end of a branch behind ${there} and of one behind ${here}.`;
        yield error('tail-claimed-twice', place.path, message, 'A branch ends on one tap: follow the wire, and correct the other chain.');
      } else if (!rings.has(`${here} ${there}`)) {
        rings.add(`${here} ${there}`);
        const message = `${place.number} hangs on ${there} and on ${here}: the two taps are joined in a ring, so that one break is silent.`;
        yield information('ring', walk.path, message, 'Nothing to do if it is so; else correct one chain.');
      }
    }
  }
}

/** Things on none of the chains of a line that has chains for their kind. */
function* offChain(walks: readonly Walk[], things: readonly Thing[]): Lint {
  const listed = new Set<string>();
  const charted = new Set<string>();
  for (const { tap, places } of walks) {
    yield rest;
    for (const { kind, number } of places) {
      listed.add(`${tap.net} ${kind} ${number}`);
      charted.add(`${tap.net} ${kind}`);
    }
  }
  for (const { kind, number, name, path, lines } of things) {
    yield rest;
    for (const line of lines) {
      if (!charted.has(`${line} ${kind}`) || listed.has(`${line} ${kind} ${number}`)) continue;
      const message = `${number} ${name} is on ${line}, but on none of its chains.`;
      yield warning('off-chain', path, message, 'Find out which tap it hangs on, and add it to that chain.');
    }
  }
}
