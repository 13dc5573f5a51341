/** What was found on the machine: whether the places it names exist, and where keys differ from the chart. */
import { lintDesignator } from './designators';
import { error, type Lint, rest, warning } from './finding';
import { connectorOf, isInline } from './inline';
import { lintColour } from './lint-colour';
import { splitPin } from './names';
import type { Chart, Finding } from './types';

export function* lintFound(chart: Chart): Lint {
  const { machine, circuit, nets } = chart;
  for (const [i, { id, place, wire, withdrawn }] of machine.asFound.entries()) {
    yield rest;
    const path = `asFound[${i}]`;
    if (machine.asFound.findIndex((d) => d.id === id) < i) {
      yield error('found-twice', `${path}.id`, `The deviation ${id} stands here a second time.`, 'Remove or rename one of the two.');
    }
    if (withdrawn) continue;
    if (!place.switch && !place.pin && !place.net) {
      yield error('found-nowhere', `${path}.place`, 'This deviation names no place.', 'Name a switch, a pin or a line.');
    }
    if (place.switch !== undefined && !circuit.has(place.switch)) {
      yield error('found-unknown-switch', `${path}.place.switch`, `${place.switch} is no switch here.`, 'Correct the number.');
    }
    if (place.net !== undefined && !nets.has(place.net)) {
      yield error('found-unknown-line', `${path}.place.net`, `${place.net} is no line of the board design.`, 'Correct the line.');
    }
    const at = place.pin === undefined ? null : splitPin(place.pin);
    const header = at && connectorOf(chart, at.header);
    if (place.pin !== undefined) yield* lintDesignator(`${path}.place.pin`, place.pin);
    if (at && (!header || at.position < 1 || at.position > header.positions)) {
      yield error(
        'found-unknown-pin',
        `${path}.place.pin`,
        `${place.pin} is no pin of the board design, nor of an in-line connector here.`,
        'Correct the pin.',
      );
    } else if (at && header?.keys.includes(at.position)) {
      const message = `${place.pin} is a key by the chart, but not as found on this machine.`;
      yield warning('key-not-as-found', `${path}.place.pin`, message, 'Check the key on the header and in the housing, each by itself.');
    }
    if (wire !== undefined) yield* lintColour(`${path}.wire`, wire, place.net !== undefined && nets.get(place.net)?.kind === 'ground');
  }
  yield* lintKeysFound(chart);
}

const inWords = (keys: readonly number[]): string => (keys.length === 0 ? 'no key' : `the key at ${keys.join(' and ')}`);

function* lintKeysFound(chart: Chart): Generator<Finding> {
  for (const [i, found] of chart.machine.keysAsFound.entries()) {
    const path = `keysAsFound[${i}]`;
    yield* lintDesignator(`${path}.header`, found.header);
    const header = connectorOf(chart, found.header);
    if (!header) {
      const message = `${found.header} is no header of the board design and no in-line connector of this machine.`;
      yield error('found-unknown-header', `${path}.header`, message, 'Correct the header.');
      continue;
    }
    if (!found.pins && !found.plug) {
      yield error(
        'found-nothing',
        path,
        `Neither side of ${found.header} was looked at.`,
        'Enter the keys of the pins, of the plug, or both.',
      );
    }
    for (const side of ['pins', 'plug'] as const) {
      const keys = found[side];
      if (!keys) continue;
      const at = `${path}.${side}`;
      const beyond = keys.find((key) => key > header.positions);
      if (beyond !== undefined) {
        const message = `The key found at ${beyond} lies beyond the ${header.positions} positions of ${found.header}.`;
        yield error('key-beyond-positions', `${at}[${keys.indexOf(beyond)}]`, message, 'Correct the key.');
      }
      const same = keys.length === header.keys.length && keys.every((key) => header.keys.includes(key));
      if (same) continue;
      const part = isInline(found.header) ? `half with the ${side === 'pins' ? 'pins' : 'sockets'}` : side === 'pins' ? 'header' : 'plug';
      const message = `By the chart ${found.header} has ${inWords(header.keys)}; its ${part} was found with ${inWords(keys)}.`;
      yield warning('key-not-as-found', at, message, 'Check both halves before the plug goes on: it may go on shifted or turned round.');
    }
  }
}
