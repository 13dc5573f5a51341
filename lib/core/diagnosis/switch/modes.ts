/** Every way in which something in the network can be at fault, with its weight and what it does. */
import { netTitle } from '../../chart/names';
import { housingName } from '../../chart/views';
import type { FaultClass } from '../classes';
import { type Kind, kindOf } from '../kinds';
import type { Behaviour, Element } from '../types';
import { plugFaults, pushHome } from './misplaced';
import { type Forced, forced, type SwitchMode, type Unplaced, whole } from './mode';
import type { Network, PathElement } from './network';
import { type FixCounts, type PriorKind, priorOf, timesLikelier, updated } from './priors';
import { touchedBy } from './touched';

export type { SwitchMode } from './mode';

export interface FaultSpace {
  modes: readonly SwitchMode[];
  elements: ReadonlyMap<string, Element>;
  /** For each switch, the modes (by index) that its readings can depend on while few contacts are closed. */
  touching: ReadonlyMap<string, ReadonlySet<number>>;
  /** All modes as one kind. */
  all: Kind;
}

export interface Circumstances {
  done: readonly string[]; // ids of histories
  counts: FixCounts;
}

const spaces = new WeakMap<Network, Base>();
interface Base extends Omit<FaultSpace, 'all'> {
  shares: ReadonlyMap<FaultClass, number>;
  last?: { key: string; space: FaultSpace };
}

/** All modes of a network, their weights as the table, the machine's late history and the club's record make them. */
export function faultSpace(network: Network, { done, counts }: Circumstances): FaultSpace {
  let base = spaces.get(network);
  if (!base) {
    base = baseSpace(network);
    spaces.set(network, base);
  }
  const key = JSON.stringify([[...done].sort(), counts]);
  if (base.last?.key === key) return base.last.space;
  const factor = updated(base.shares, counts);
  const modes = base.modes.map((mode) => ({
    ...mode,
    weight: mode.weight * timesLikelier(mode.kind, done) * (factor.get(priorOf(mode.kind).fault) ?? 1),
  }));
  const all = kindOf(
    modes.map((mode) => ({ ...mode, key: '' })),
    0,
    { focus: () => false },
  );
  const space = { elements: base.elements, modes, touching: base.touching, all };
  base.last = { key, space };
  return space;
}

function baseSpace(network: Network): Base {
  const elements = new Map<string, Element>([...network.elements.values()].map((e) => [e.id, e]));
  const faults = [...lineFaults(network), ...switchFaults(network), ...plugFaults(network), ...selectFaults(network)];
  for (const { element } of faults) if (!elements.has(element.id)) elements.set(element.id, element);
  // A dark detector reads "beam broken" for ever: that is open where light closes it, and closed where light opens it.
  const dark = new Set(network.circuits.flatMap((c) => (c.device === 'opto' && c.normally !== 'closed' ? [`contact ${c.number}`] : [])));
  const modes = [
    ...[...network.elements.values()].flatMap((element) => pathModes(element, dark)),
    ...faults.flatMap(({ modes: of }) => of),
  ].map((mode, place) => ({
    ...mode,
    place,
  }));
  const shares = new Map<FaultClass, number>();
  for (const { kind, weight } of modes) shares.set(priorOf(kind).fault, (shares.get(priorOf(kind).fault) ?? 0) + weight);
  const touching = new Map<string, Set<number>>(network.circuits.map((c) => [c.number, new Set()]));
  for (const [index, mode] of modes.entries()) for (const number of touchedBy(network, mode.effect)) touching.get(number)?.add(index);
  return { elements, modes, touching, shares };
}

const inWords: Record<Behaviour, string> = { hard: 'open', intermittent: 'now and then', timing: 'too slow for the ball' };
const mechanicalKinds = new Set<PriorKind>(['leaf contact', 'microswitch', 'reed', 'optical pair']);

function pathModes(element: PathElement, closesInTheDark: ReadonlySet<string>): Unplaced[] {
  return element.kinds.flatMap((kind) => {
    const prior = priorOf(kind);
    const mode = (behaviour: Behaviour, share: number | undefined): Unplaced[] =>
      share
        ? [
            {
              id: `${element.id} | ${kind} ${behaviour}`,
              element: element.id,
              kind,
              weight: prior.weight * share,
              ...(element.group && { group: element.group }),
              behaviour,
              quiet: prior.quiet ?? 0,
              mechanical: mechanicalKinds.has(kind),
              effect: { does: 'cut', element: element.id },
              words: inWords[behaviour],
              ...(kind === 'housing unplugged' && { mend: pushHome(element.place) }),
            },
          ]
        : [];
    const [open, closed] = closesInTheDark.has(element.id) ? [prior.stuck, prior.hard] : [prior.hard, prior.stuck];
    const cuts = [
      ...mode('hard', open ?? (kind === 'housing unplugged' ? 1 : undefined)),
      ...mode('intermittent', prior.intermittent),
      ...mode('timing', prior.timing),
    ];
    const number = element.id.startsWith('contact ') ? element.place : '';
    const stuck =
      number && closed ? [forced(element, kind, prior.weight * closed, { does: 'contact-closed', switch: number }, 'closed for good')] : [];
    return [...cuts, ...stuck];
  });
}

const lower = (text: string) => text.charAt(0).toLowerCase() + text.slice(1);

function lineFaults(network: Network): Forced[] {
  const { chart } = network;
  const nets = [...new Set(network.circuits.flatMap((c) => c.nets))];
  const one = nets.flatMap((net): Forced[] => {
    const title = netTitle(chart, net);
    const short: Element = {
      id: `short ${net}`,
      name: `${title} to ground or supply`,
      detail: 'a pinched or touching wire',
      place: lower(title),
      fault: 'short',
    };
    const shorts: Forced = {
      element: short,
      modes: [
        forced(short, 'line to ground', whole('line to ground'), { does: 'to-ground', line: net }, 'to ground'),
        forced(short, 'line to supply', whole('line to supply'), { does: 'to-supply', line: net }, 'to supply'),
      ],
    };
    const isColumn = net.startsWith('switch-column');
    const root = network.elements.get(`${isColumn ? 'driver' : 'input'} ${net}`);
    if (!root) return [shorts];
    if (isColumn)
      return [
        shorts,
        { element: root, modes: [forced(root, 'driver stuck', whole('driver stuck'), { does: 'driver-on', line: net }, 'stuck on')] },
      ];
    const reads = (state: 'closed' | 'open') =>
      forced(
        root,
        'row input stuck',
        whole('row input stuck') / 2,
        { does: 'input-reads', line: net, reads: state },
        `reads ${state} always`,
      );
    const pull = forced(root, 'row pull', whole('row pull'), { does: 'pull-open', line: net }, 'its pull is open');
    return [shorts, { element: root, modes: [reads('closed'), reads('open'), ...(net.startsWith('switch-row') ? [pull] : [])] }];
  });
  return [...one, ...neighbours(network)];
}

/** Lines side by side in a header: they touch, or their wires have changed places. */
function neighbours({ chart, circuits }: Network): Forced[] {
  const used = new Set(circuits.flatMap((c) => c.nets));
  const seen = new Set<string>();
  const found: Forced[] = [];
  for (const header of [...chart.headers.values(), ...chart.inline.values()]) {
    const pins = header.pins.filter((pin) => used.has(pin.net)).sort((a, b) => a.position - b.position);
    for (const [k, pin] of pins.entries()) {
      const next = pins[k + 1];
      if (!next || next.position - pin.position > 2 || next.net === pin.net) continue;
      const lines = [pin.net, next.net] as const;
      const names = `${lower(netTitle(chart, pin.net))} and ${lower(netTitle(chart, next.net))}`;
      const at = `${housingName(header.id)}, positions ${pin.position} and ${next.position}`;
      const where = { detail: at, place: header.id, group: header.id };
      const touch = { id: `join ${[...lines].sort().join(' ')}`, name: `${names} touch`, fault: 'short' as const, ...where };
      const swapped = {
        id: `exchanged ${header.id}-${pin.position}`,
        name: `${names} exchanged`,
        fault: 'exchanged-wires' as const,
        ...where,
      };
      if (!seen.has(touch.id)) {
        seen.add(touch.id);
        found.push({
          element: touch,
          modes: [forced(touch, 'line to neighbour', whole('line to neighbour'), { does: 'join', lines }, 'touch')],
        });
      }
      found.push({
        element: swapped,
        modes: [forced(swapped, 'wires exchanged', whole('wires exchanged'), { does: 'exchanged', lines, header: header.id }, 'exchanged')],
      });
    }
  }
  return found;
}

function switchFaults(network: Network): Forced[] {
  return network.circuits
    .filter((c) => c.kind === 'matrix')
    .flatMap(({ number }) => {
      const diode = network.elements.get(`diode ${number}`);
      if (!diode) return [];
      const stack: Element & { group: string } = {
        id: `insulation ${number}`,
        name: `Insulation of ${number}`,
        detail: 'blade stack, or a lug that touches',
        place: number,
        fault: 'short',
        group: `switch ${number}`,
      };
      const third = whole('stack insulation');
      return [
        {
          element: diode,
          modes: [
            forced(diode, 'diode shorted', whole('diode shorted'), { does: 'diode-bypassed', switch: number }, 'shorted'),
            forced(diode, 'diode bypassed', whole('diode bypassed'), { does: 'diode-bypassed', switch: number }, 'bypassed'),
            forced(diode, 'diode reversed', whole('diode reversed'), { does: 'diode-reversed', switch: number }, 'reversed'),
          ],
        },
        {
          element: stack,
          modes: [
            forced(stack, 'stack insulation', third * 0.3, { does: 'contact-closed', switch: number }, 'bypasses the contact'),
            forced(stack, 'stack insulation', third * 0.3, { does: 'bypass-both', switch: number }, 'joins column and row'),
            forced(
              stack,
              'stack insulation',
              third * 0.4,
              { does: 'middle-to-ground', switch: number },
              'touches ground behind the contact',
            ),
          ],
        },
      ];
    });
}

function selectFaults({ chart }: Network): Forced[] {
  if (chart.design.matrix.select !== 'decoder') return [];
  const bits = Math.ceil(Math.log2(Math.max(2, chart.columns.length)));
  return Array.from({ length: bits }, (_, bit) => {
    const element: Element = {
      id: `select ${bit}`,
      name: `Column select line ${bit + 1}`,
      detail: 'into the decoder',
      place: `select line ${bit + 1}`,
      fault: 'driver',
    };
    const at = (state: 0 | 1) =>
      forced(element, 'select bit', whole('select bit') / 2, { does: 'select-stuck', bit, at: state }, `stuck at ${state}`);
    return { element, modes: [at(0), at(1)] };
  });
}
