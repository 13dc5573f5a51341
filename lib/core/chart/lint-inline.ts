/** In-line connectors: their keys and positions, the wires of both halves, and whether the chains that pass them agree. */
import { lintDesignator } from './designators';
import { error, type Lint, rest, warning } from './finding';
import { splitInline } from './inline';
import { lintKeys, lintShape } from './lint-header';
import { lintWires, sameColours } from './lint-pin';
import { goesOn } from './plug-fit';
import type { InlinePin, Step } from './schema';
import type { Chart, Finding, Inline } from './types';

interface Listed extends InlinePin {
  position: number;
  index: number; // in its list
}

export function* lintInline(chart: Chart): Lint {
  const { inline = [], inlinePins = [] } = chart.machine;
  const first = new Map<string, { pin: InlinePin; index: number }>(); // of each name
  const listed = new Map<string, Listed[]>(); // by connector
  for (const [index, pin] of inlinePins.entries()) {
    yield rest;
    if (!first.has(pin.pin)) first.set(pin.pin, { pin, index });
    const at = splitInline(pin.pin);
    const own = at && listed.get(at.connector);
    if (own) own.push({ ...pin, position: at.position, index });
    else if (at) listed.set(at.connector, [{ ...pin, position: at.position, index }]);
  }
  for (const [i, { id }] of inline.entries()) {
    yield rest;
    const path = `inline[${i}]`;
    yield* lintDesignator(`${path}.id`, id);
    if (inline.findIndex((other) => other.id === id) < i) {
      yield error('inline-twice', `${path}.id`, `${id} stands here a second time.`, 'Remove or rename one of the two.');
      continue;
    }
    const connector = chart.inline.get(id);
    if (!connector) continue;
    yield* lintKeys(connector, path);
    yield* lintShape(connector, path);
    yield* exchangeable(chart, connector, path);
    yield* coloursOf(chart, id, listed.get(id) ?? []);
  }
  for (const [i, pin] of inlinePins.entries()) {
    yield rest;
    const before = first.get(pin.pin);
    yield* lintPosition(chart, pin, i, before && before.index < i ? before.pin : null);
  }
  yield* lintPasses(chart);
}

/** Two that go together crosswise, as both hang loose side by side. */
function* exchangeable({ inline }: Chart, connector: Inline, path: string): Generator<Finding> {
  const all = [...inline.values()];
  const twin = all
    .slice(0, all.indexOf(connector))
    .find((other) => goesOn(other, other.keys, connector, connector.keys) && goesOn(connector, connector.keys, other, other.keys));
  if (!twin) return;
  const message = `${twin.id} and ${connector.id} have the same size and key: their halves are easily exchanged.`;
  yield warning('exchangeable', path, message, 'Check the keys; mark both halves of each before they come apart.');
}

/** Two lines of one colour in one half; each half is read by itself, and each finding stands at the position in its list. */
function* coloursOf({ nets }: Chart, id: string, own: readonly Listed[]): Generator<Finding> {
  const said = new Set<string>();
  for (const half of ['wires', 'far'] as const) {
    const pins = own.map(({ position, net, wires, far }) => ({ position, net, wires: half === 'far' ? (far ?? wires) : wires }));
    for (const finding of sameColours({ id, pins }, '', nets)) {
      const index = own[Number(/\d+/.exec(finding.path)?.[0])]?.index;
      const path = `inlinePins[${index}]`;
      if (said.has(path)) continue;
      said.add(path);
      yield { ...finding, path };
    }
  }
}

/** `before`: a row above that names the same position. */
function* lintPosition(chart: Chart, { pin, net: netId, wires, far }: InlinePin, i: number, before: InlinePin | null): Generator<Finding> {
  const path = `inlinePins[${i}]`;
  yield* lintDesignator(`${path}.pin`, pin);
  const at = splitInline(pin);
  const connector = at && chart.inline.get(at.connector);
  if (!at || !connector) {
    yield error('inline-unknown', `${path}.pin`, `${pin} is of no in-line connector of this machine.`, 'Correct it, or add the connector.');
    return;
  }
  if (at.position > connector.positions || at.position < 1) {
    const message = `${pin} lies beyond the ${connector.positions} positions of ${connector.id}.`;
    yield error('pin-beyond-positions', `${path}.pin`, message, 'Correct the position, or the number of positions.');
  }
  if (connector.keys.includes(at.position)) {
    yield error('wire-on-key', `${path}.pin`, `${pin} is the key, yet ${netId} is on it.`, 'Move the wire, or correct the key.');
  }
  if (before && before.net === netId) {
    yield error('pin-twice', path, `${pin} stands here a second time.`, 'List both wires in one row.');
  } else if (before) {
    yield error('two-lines-on-pin', path, `${pin} carries both ${before.net} and ${netId}.`, 'Correct one: a position carries one line.');
  }
  const net = chart.nets.get(netId);
  if (!net) {
    const message = `${pin} names the line ${netId}, which the board design does not have.`;
    yield error('unknown-line', `${path}.net`, message, 'Correct its name, or add the line.');
    return;
  }
  // That the far half has another colour is what two lists are for; only the near one is held against the line.
  yield* lintWires(connector, { position: at.position, net: netId, ...(wires && { wires }) }, net, path);
  for (const finding of lintWires(connector, { position: at.position, net: netId, ...(far && { wires: far }) }, net, path))
    if (far && finding.rule !== 'colour-differs') yield { ...finding, path: finding.path.replace('.wires', '.far') };
}

interface Pass {
  pin: string;
  tap: string;
  net: string | undefined;
  path: string;
}

function passesOf(steps: readonly Step[], path: string): { pin: string; path: string }[] {
  return steps.flatMap((step, k) => {
    const at = `${path}[${k}]`;
    if ('inline' in step) return [{ pin: step.inline, path: `${at}.inline` }];
    return 'branches' in step ? step.branches.flatMap((branch, b) => passesOf(branch, `${at}.branches[${b}]`)) : [];
  });
}

/** What the chains say of the positions, held against what the positions say of themselves. */
function* lintPasses(chart: Chart): Lint {
  const passes = chart.machine.chains.flatMap(({ tap, steps }, i): Pass[] =>
    passesOf(steps, `chains[${i}].steps`).map((pass) => ({ ...pass, tap, net: chart.pins.get(tap)?.net })),
  );
  const before = new Map<string, Pass>();
  for (const pass of passes) {
    yield rest;
    const { pin, tap, net, path } = pass;
    const through = chart.through.get(pin);
    if (!through) {
      const message = `The chain of ${tap} passes ${pin}, which is no position of an in-line connector here.`;
      yield error('chain-unknown-inline', path, message, 'Correct it, or enter the position with its line.');
    } else if (net !== undefined && through.net !== net) {
      const message = `The chain of ${tap} passes ${pin}, which carries ${through.net} and not ${net}.`;
      yield error('inline-off-line', path, message, 'Correct the position, its line or the tap.');
    }
    const other = before.get(pin);
    if (other && other.tap !== tap) {
      const message = `${pin} is passed from ${other.tap} and from ${tap}.`;
      yield warning('inline-claimed-twice', path, message, 'A position goes on to one pin: follow the wire, and correct the other chain.');
    } else before.set(pin, pass);
  }
  const charted = new Set(chart.machine.chains.map(({ tap }) => chart.pins.get(tap)?.net));
  for (const [i, { pin, net }] of (chart.machine.inlinePins ?? []).entries()) {
    yield rest;
    if (before.has(pin) || !charted.has(net) || chart.through.get(pin)?.net !== net) continue;
    const message = `${pin} carries ${net}, but none of its chains passes there.`;
    yield warning('inline-off-chain', `inlinePins[${i}].pin`, message, 'Find out what hangs beyond it, and put it into the chain.');
  }
}
