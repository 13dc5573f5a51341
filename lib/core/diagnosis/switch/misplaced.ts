/** Plugs that are not where they belong: shifted, turned round, on another header, two exchanged. Only where size, pitch, keys and lock allow it. */
import { keysOnMachine } from '../../chart/keys';
import { boardOf, netTitle } from '../../chart/names';
import { goesOn, goesOnShifted, goesOnTurned } from '../../chart/plug-fit';
import { positionLabel } from '../../chart/positions';
import type { Header } from '../../chart/schema';
import type { Chart } from '../../chart/types';
import { housingName } from '../../chart/views';
import type { Effect, Element } from '../types';
import { listed, lower } from '../words';
import { type Forced, forced, type Unplaced, whole } from './mode';
import type { Network } from './network';
import type { PriorKind } from './priors';
import { landed } from './seat';

/** Every way in which a plug with switch lines can sit in the wrong place. */
export function plugFaults({ chart, elements }: Network): Forced[] {
  const plugs = [...chart.headers.values()].filter(({ id }) => elements.has(`plug ${id}`));
  const alone = plugs.flatMap((header): Forced[] => {
    const element = elements.get(`plug ${header.id}`);
    return element ? [{ element, modes: [...onItsOwn(chart, header, element), ...onAnother(chart, header, element)] }] : [];
  });
  return [...alone, ...exchanges(chart, plugs)];
}

function onItsOwn(chart: Chart, header: Header, element: Element): Unplaced[] {
  const keys = keysOnMachine(chart, header.id);
  const { id } = header;
  const over = ([1, -1] as const).flatMap((by) => {
    const words = `one position ${by > 0 ? 'up' : 'down'}`;
    return goesOnShifted(header, keys, by)
      ? [misplaced(chart, element, 'housing shifted', 1 / 2, { does: 'shifted', header: id, by }, words)]
      : [];
  });
  const round = goesOnTurned(header, keys)
    ? [misplaced(chart, element, 'housing turned', 1, { does: 'turned', header: id }, 'turned round')]
    : [];
  return [...over, ...round];
}

/** Headers of the same board on which the plug of this one goes. */
function others(chart: Chart, header: Header): Header[] {
  const { plug } = keysOnMachine(chart, header.id);
  return [...chart.headers.values()].filter(
    (other) =>
      other.id !== header.id &&
      boardOf(other.id) === boardOf(header.id) &&
      goesOn(header, plug, other, keysOnMachine(chart, other.id).pins),
  );
}

function onAnother(chart: Chart, header: Header, element: Element): Unplaced[] {
  const fitting = others(chart, header);
  return fitting.map((other) => {
    const words = `on ${other.id}${other.pins.length > 0 ? ', whose own plug is off' : ''}`;
    const effect = { does: 'elsewhere', header: header.id, on: other.id } as const;
    return misplaced(chart, element, 'housing elsewhere', 1 / fitting.length, effect, words);
  });
}

function exchanges(chart: Chart, plugs: readonly Header[]): Forced[] {
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
        detail: 'each goes on the header of the other',
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
export const pushHome = (header: string): string => `${off} Push ${housingName(header)} home on ${header}, evenly at both ends.`;

/** How a misplaced plug is put right, and what must be looked at first. */
function putRight(chart: Chart, effect: Effect): string {
  if (effect.does === 'plugs-exchanged') {
    const [a, b] = effect.headers;
    const way = `Put ${housingName(a)} on ${a} and ${housingName(b)} on ${b}.`;
    return [off, way, ...harmed(chart, effect, effect.headers), markBoth].join(' ');
  }
  if (effect.does !== 'shifted' && effect.does !== 'turned' && effect.does !== 'elsewhere') return '';
  const { header } = effect;
  const plug = housingName(header);
  const own = chart.headers.get(header);
  const how =
    effect.does === 'elsewhere'
      ? `Move ${plug} from ${effect.on} to ${header}`
      : effect.does === 'turned'
        ? `Take ${plug} off, turn it round and put it on again`
        : `Take ${plug} off and put it on again`;
  const way = `${how}, position ${(own && positionLabel(own, 1)) || 1} to the mark.`;
  return [off, way, ...harmed(chart, effect, [header]), ...keyAgain(chart, own)].join(' ');
}

const markBoth = 'Mark plugs and headers before they come off again.';

/** The key that was lost goes in again; where the chart has none, a mark has to do. */
function keyAgain(chart: Chart, header: Header | undefined): string[] {
  if (!header) return [];
  const { plug, pins } = keysOnMachine(chart, header.id);
  const lost = pins.filter((key) => !plug.includes(key)).map((key) => positionLabel(header, key) || `${key}`);
  if (lost.length > 0) return [`Key position ${listed(lost)} of the housing again.`];
  return pins.length === 0 ? [markBoth] : [];
}

/** Wires that came to sit on a supply have taken its voltage to boards and switches. */
function harmed(chart: Chart, effect: Effect, headers: readonly string[]): string[] {
  const met = headers.flatMap((header) =>
    (chart.headers.get(header)?.pins ?? []).flatMap(({ position, net }) => {
      const at = landed(chart, [effect], { header, position });
      const pin = at && chart.pins.get(`${at.header}-${at.position}`);
      const there = pin && pin.net !== net ? chart.nets.get(pin.net) : undefined;
      return there && (there.kind === 'supply' || (there.volts ?? 0) > 0) ? [lower(netTitle(chart, there.id))] : [];
    }),
  );
  const names = [...new Set(met)];
  return names.length === 0
    ? []
    : [`Its wires have met ${listed(names)}: before power is on, measure each to ground and look for what that has harmed.`];
}
