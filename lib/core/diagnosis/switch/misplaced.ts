/** Plugs that are not where they belong: shifted, turned round, on another header, two exchanged. Only where size, pitch, keys and lock allow it. */
import { connectorOf, isInline } from '../../chart/inline';
import { keysOnMachine } from '../../chart/keys';
import { boardOf, netTitle } from '../../chart/names';
import { goesOn, goesOnShifted, goesOnTurned } from '../../chart/plug-fit';
import { positionLabel } from '../../chart/positions';
import type { Chart, Inline } from '../../chart/types';
import { housingName } from '../../chart/views';
import type { Effect, Element } from '../types';
import { listed, lower } from '../words';
import { type Forced, forced, type Unplaced, whole } from './mode';
import type { Network } from './network';
import type { PriorKind } from './priors';
import { landed } from './seat';

/** Of an in-line connector it is the far half that sits in a wrong place, on its own near half or on another’s. */
type Connector = Omit<Inline, 'place' | 'pinsOn'> & { pinsOn?: Inline['pinsOn'] };

/** Every way in which a plug with switch lines can sit in the wrong place. */
export function plugFaults({ chart, elements }: Network): Forced[] {
  const plugs = [...chart.headers.values(), ...chart.inline.values()].filter(({ id }) => elements.has(`plug ${id}`));
  const alone = plugs.flatMap((header: Connector): Forced[] => {
    const element = elements.get(`plug ${header.id}`);
    return element ? [{ element, modes: [...onItsOwn(chart, header, element), ...onAnother(chart, header, element)] }] : [];
  });
  return [...alone, ...exchanges(chart, plugs)];
}

function onItsOwn(chart: Chart, header: Connector, element: Element): Unplaced[] {
  const keys = keysOnMachine(chart, header.id);
  const { id } = header;
  const over = ([1, -1] as const).flatMap((by) => {
    const words = `one position ${by > 0 ? 'up' : 'down'}`;
    // Where the far half has the pins, the sockets move the other way over them.
    return goesOnShifted(header, keys, header.pinsOn === 'far' ? -by : by)
      ? [misplaced(chart, element, 'housing shifted', 1 / 2, { does: 'shifted', header: id, by }, words)]
      : [];
  });
  const round = goesOnTurned(header, keys)
    ? [misplaced(chart, element, 'housing turned', 1, { does: 'turned', header: id }, 'turned round')]
    : [];
  return [...over, ...round];
}

/** Headers of the same board on which the plug of this one goes; of an in-line connector, others that hang loose like it. */
function others(chart: Chart, header: Connector): Connector[] {
  const { plug, pins } = keysOnMachine(chart, header.id);
  if (isInline(header.id))
    return [...chart.inline.values()].filter((other) => {
      const theirs = keysOnMachine(chart, other.id);
      const fits = header.pinsOn === 'far' ? goesOn(other, theirs.plug, header, pins) : goesOn(header, plug, other, theirs.pins);
      return other.id !== header.id && other.pinsOn === header.pinsOn && fits;
    });
  return [...chart.headers.values()].filter(
    (other) =>
      other.id !== header.id &&
      boardOf(other.id) === boardOf(header.id) &&
      goesOn(header, plug, other, keysOnMachine(chart, other.id).pins),
  );
}

function onAnother(chart: Chart, header: Connector, element: Element): Unplaced[] {
  const fitting = others(chart, header);
  return fitting.map((other) => {
    const own = isInline(other.id) ? 'far half' : 'plug';
    const words = `on ${other.id}${other.pins.length > 0 ? `, whose own ${own} is off` : ''}`;
    const effect = { does: 'elsewhere', header: header.id, on: other.id } as const;
    return misplaced(chart, element, 'housing elsewhere', 1 / fitting.length, effect, words);
  });
}

function exchanges(chart: Chart, plugs: readonly Connector[]): Forced[] {
  const seen = new Set<string>();
  return plugs.flatMap((header) =>
    others(chart, header).flatMap((other): Forced[] => {
      const pair = [header.id, other.id].sort() as [string, string];
      const id = `plugs ${pair.join(' ')}`;
      if (seen.has(id) || other.pins.length === 0 || !others(chart, other).includes(header)) return [];
      seen.add(id);
      const element: Element = {
        id,
        name: `${listed(pair.map(housingName))} exchanged`,
        detail: isInline(header.id) ? 'the far half of each goes on the other' : 'each goes on the header of the other',
        place: listed(pair),
        fault: 'misplaced-plug',
      };
      const effect = { does: 'plugs-exchanged', headers: pair } as const;
      return [{ element, modes: [misplaced(chart, element, 'housings exchanged', 1, effect, 'exchanged')] }];
    }),
  );
}

function misplaced(chart: Chart, element: Element, kind: PriorKind, share: number, effect: Effect, words: string): Unplaced {
  return { ...forced(element, kind, whole(kind) * share, effect, words), mend: putRight(chart, effect) };
}

const off = 'Mains plug out.';

/** A plug that is off or not pushed home. */
export const pushHome = (header: string): string =>
  isInline(header)
    ? `${off} Push the two halves of ${header} together, evenly at both ends.`
    : `${off} Push ${housingName(header)} home on ${header}, evenly at both ends.`;

/** How a misplaced plug is put right, and what must be looked at first. */
function putRight(chart: Chart, effect: Effect): string {
  if (effect.does === 'plugs-exchanged') {
    const [a, b] = effect.headers;
    const way = isInline(a)
      ? `Put the far half of ${a} on ${a} and that of ${b} on ${b}.`
      : `Put ${housingName(a)} on ${a} and ${housingName(b)} on ${b}.`;
    return [off, way, ...harmed(chart, effect, effect.headers), markBoth].join(' ');
  }
  if (effect.does !== 'shifted' && effect.does !== 'turned' && effect.does !== 'elsewhere') return '';
  const { header } = effect;
  const plug = housingName(header);
  const own = connectorOf(chart, header);
  const how = isInline(header)
    ? apart(header, effect)
    : effect.does === 'elsewhere'
      ? `Move ${plug} from ${effect.on} to ${header}`
      : effect.does === 'turned'
        ? `Take ${plug} off, turn it round and put it on again`
        : `Take ${plug} off and put it on again`;
  const one = (own && positionLabel(own, 1)) || '1';
  const way = `${how}, position ${one} to ${isInline(header) ? `position ${one}` : 'the mark'}.`;
  return [off, way, ...harmed(chart, effect, [header]), ...keyAgain(chart, own)].join(' ');
}

const apart = (connector: string, effect: Effect): string =>
  effect.does === 'elsewhere'
    ? `Move the far half of ${connector} from ${effect.on} to its own half`
    : `Part ${connector} and put its halves together again`;

const markBoth = 'Mark plugs and headers before they come off again.';

/** The key that was lost goes in again; where the chart has none, a mark has to do. */
function keyAgain(chart: Chart, header: Connector | undefined): string[] {
  if (!header) return [];
  const { plug, pins } = keysOnMachine(chart, header.id);
  const lost = pins.filter((key) => !plug.includes(key)).map((key) => positionLabel(header, key) || `${key}`);
  if (lost.length > 0) return [`Key position ${listed(lost)} of the housing again.`];
  return pins.length > 0 ? [] : [isInline(header.id) ? 'Mark both halves before they come apart again.' : markBoth];
}

/** Wires that came to sit on a supply have taken its voltage to boards and switches. */
function harmed(chart: Chart, effect: Effect, headers: readonly string[]): string[] {
  const met = headers.flatMap((header) =>
    (connectorOf(chart, header)?.pins ?? []).flatMap(({ position, net }) => {
      const at = landed(chart, [effect], { header, position });
      const name = at && `${at.header}-${at.position}`;
      const pin = name ? (chart.pins.get(name) ?? chart.through.get(name)) : undefined;
      const there = pin && pin.net !== net ? chart.nets.get(pin.net) : undefined;
      return there && (there.kind === 'supply' || (there.volts ?? 0) > 0) ? [lower(netTitle(chart, there.id))] : [];
    }),
  );
  const names = [...new Set(met)];
  return names.length === 0
    ? []
    : [`Its wires have met ${listed(names)}: before power is on, measure each to ground and look for what that has harmed.`];
}
