/** The bench tests of a switch: what each is, what it costs, and what every fault would show in it. Minutes and rates are common practice, no source. */
import { connectorOf, isInline, splitInline } from '../../chart/inline';
import { netTitle } from '../../chart/names';
import { housingName } from '../../chart/views';
import type { Probe, Test } from '../types';
import type { SwitchMode } from './modes';
import type { Network, PathElement } from './network';
import { plugProbe } from './plug-probe';
import { type Sign, signProbe } from './signs';
import { readings } from './solve';
import { restCells, type Wiring } from './wiring';

const sure = 0.98;
const watched = 0.7; // one that shows itself while one raps at it or moves the wire: 1 − E(1 − m)⁵ for m of Beta(1, 2)
const seldom = 0.25; // an intermittent fault that happens to be open while one looks
const lower = (text: string) => text.charAt(0).toLowerCase() + text.slice(1);
const outcomes = (...pairs: [string, string][]) => pairs.map(([id, label]) => ({ id, label }));

interface At {
  wiring: Wiring;
  network: Network;
  element(mode: SwitchMode): PathElement | undefined;
}
type Maker = (at: At, ...args: string[]) => Probe | null;

/** Which faults stop the path of a switch, leaving out some elements. */
const stops =
  (at: At, number: string, spared: (element: PathElement) => boolean) =>
  (mode: SwitchMode): Sign => {
    const element = at.element(mode);
    if (mode.effect.does === 'cut') {
      if (!element?.serves.has(number) || spared(element)) return null;
      if (mode.behaviour === 'timing') return null;
      return { outcome: 1, sure: mode.behaviour === 'hard' ? sure : watched };
    }
    return deadens(at, mode, number) ? { outcome: 1, sure } : null;
  };

/** A forcing fault that keeps the switch from registering. */
function deadens({ wiring }: At, mode: SwitchMode, number: string): boolean {
  const index = wiring.cellOf.get(number);
  return index !== undefined && readings(wiring, [mode.effect], new Set([index]))[index] === 0;
}

/** The header pin behind which a switch hangs on a line; the first of the line where the chart does not say. */
function tapOf({ network }: At, net: string, number: string): string | undefined {
  const taps = network.chart.taps.get(net) ?? [];
  return (taps.find((tap) => tap.behind.includes(number)) ?? taps[0])?.pin;
}

/** How many switches the test would show with nothing pressed: a normally closed one shows when its path is open. */
function activeAtRest(wiring: Wiring, { effect }: SwitchMode): number {
  const { cells, normallyClosed } = wiring;
  return readings(wiring, [effect], restCells(wiring)).filter(
    (reading, index) => reading === (normallyClosed.has(cells[index]?.number ?? '') ? 0 : 1),
  ).length;
}

const circuitName = ({ network }: At, number: string) => {
  const circuit = network.circuits.find((c) => c.number === number);
  return circuit ? `${number} ${circuit.name}` : number;
};

const makers: Record<string, Maker> = {
  rest: ({ wiring }) =>
    signProbe(
      test(
        'rest',
        'Press nothing, and look which switches read closed.',
        0.5,
        'on',
        1,
        outcomes(['none', 'None'], ['one', 'One or two'], ['row', 'A whole row']),
      ),
      0.02,
      (mode) => {
        const on = activeAtRest(wiring, mode);
        // An intermittent cut of a normally closed switch is seen when it happens to be open.
        return on === 0 ? null : { outcome: on > 2 ? 2 : 1, sure: mode.behaviour === 'hard' ? 0.95 : seldom };
      },
    ),
  'all unplugged': ({ wiring }) =>
    signProbe(
      test(
        'all unplugged',
        'Unplug the harness of the switch board, power on, and look again which switches read closed.',
        2,
        'unplugged',
        1,
        outcomes(['clear', 'All clear now'], ['stays', 'It stays']),
      ),
      0.02,
      (mode) => {
        if (mode.effect.does !== 'input-reads' && mode.effect.does !== 'pull-open') return null;
        return readings(wiring, [mode.effect], new Set()).includes(1) ? { outcome: 1, sure: 0.95 } : null;
      },
    ),
  bridge: (at, number = '') => {
    const circuit = at.network.circuits.find((c) => c.number === number);
    const [column, row] = circuit?.nets.map((net) => tapOf(at, net, number)) ?? [];
    if (!column || !row) return null;
    const title = `Unplug every plug of ${circuit?.nets.map((n) => lower(netTitle(at.network.chart, n))).join(' and ')}, then join ${column} to ${row} by a lead with a diode in it, ${
      at.wiring.strobeLow ? 'band to the column' : 'band to the row'
    }. Power on: press here and there on the board.`;
    return signProbe(
      test(`bridge ${number}`, title, 3, 'unplugged', 1, outcomes(['shows', `${number} shows`], ['nothing', 'Nothing'])),
      0.02,
      (mode) => {
        const element = at.element(mode);
        const onBoard =
          mode.effect.does === 'cut'
            ? element && /^(driver|input|package|matrix)/.test(element.id)
            : mode.effect.does === 'input-reads' || mode.effect.does === 'select-stuck';
        const joint = element?.id.startsWith('joint ');
        const sign = stops(at, number, () => !(onBoard || joint))(mode);
        // A cracked joint may make contact under the probe.
        return sign && mode.effect.does !== 'cut' && !onBoard ? null : sign && joint ? { ...sign, sure: sign.sure * 0.6 } : sign;
      },
    );
  },
  jumper: (at, number = '') =>
    signProbe(
      test(
        `jumper ${number}`,
        `Join the two contact lugs of ${circuitName(at, number)} with a clip lead, the diode left in, and rap beside it a few times.`,
        1.5,
        'on',
        1,
        outcomes(['shows', 'It registers and stays'], ['nothing', 'Nothing, or it drops out']),
      ),
      0.02,
      stops(at, number, (element) => element.id === `contact ${number}`),
    ),
  'jumper with diode': (at, number = '') =>
    signProbe(
      test(
        `jumper with diode ${number}`,
        `Bridge contact and diode of ${circuitName(at, number)} together by a lead with a known-good diode in it, ${at.wiring.strobeLow ? 'band to the column' : 'band to the row'}, and rap beside it a few times.`,
        1.5,
        'on',
        1,
        outcomes(['shows', 'It registers and stays'], ['nothing', 'Nothing, or it drops out']),
      ),
      0.02,
      (mode) => {
        if (mode.effect.does === 'diode-reversed' && mode.effect.switch === number) return null;
        return stops(at, number, (element) => element.id === `contact ${number}` || element.id === `diode ${number}`)(mode);
      },
    ),
  continuity: (at, pin = '', number = '') => {
    if (isInline(pin)) return beyondProbe(at, pin, number);
    const net = at.network.chart.pins.get(pin)?.net;
    if (!net) return null;
    const title = `Measure from the terminal ${housingName(pin)} to the ${lower(netTitle(at.network.chart, net))} lug of ${number}: below 1 Ω, also while you move the wire.`;
    return signProbe(
      test(`continuity ${pin} ${number}`, title, 4, 'unplugged', 0, outcomes(['good', 'Below 1 Ω'], ['open', 'Open or jumps'])),
      0.02,
      (mode) => {
        const element = at.element(mode);
        const onWire =
          element &&
          /^(terminal|run|splice|inline|tail) /.test(element.id) &&
          mode.kind !== 'terminal spring' &&
          element.lines.includes(net);
        if (
          !onWire ||
          mode.effect.does !== 'cut' ||
          !element.serves.has(number) ||
          (element.id.startsWith('terminal ') && element.pin !== pin)
        )
          return null;
        return { outcome: 1, sure: mode.behaviour === 'hard' ? sure : watched };
      },
    );
  },
  parted: (_, pin = '') => {
    const { connector = '', position = 0 } = splitInline(pin) ?? {};
    return signProbe(
      test(
        `parted ${pin}`,
        `Part ${connector} and look at position ${position} in both halves, at the contacts and where each wire is held.`,
        2,
        'off',
        0,
        outcomes(['sound', 'Both look sound'], ['worn', 'Brown, spread, pushed back, or a wire loose']),
      ),
      0.05,
      (mode) => (mode.element === `inline ${pin}` ? { outcome: 1, sure: 0.5 } : null),
    );
  },
  diode: (at, number = '') =>
    signProbe(
      test(
        `diode ${number}`,
        `Measure the diode of ${circuitName(at, number)} both ways, also while you move its leads: 0.5 to 0.7 V one way, nothing the other.`,
        2,
        'unplugged',
        0,
        outcomes(['good', 'Good'], ['open', 'Open both ways'], ['low', 'Low both ways'], ['turned', 'Band on the wrong side']),
      ),
      0.03,
      (mode) => {
        if (mode.element !== `diode ${number}`) return null;
        if (mode.effect.does === 'cut') return { outcome: 1, sure: mode.behaviour === 'hard' ? 0.95 : watched };
        return { outcome: mode.effect.does === 'diode-reversed' ? 3 : 2, sure: 0.92 };
      },
    ),
  wiggle: (at, pin = '', number = '') =>
    signProbe(
      test(
        `wiggle ${pin} ${number}`,
        `Hold ${number} closed and wiggle ${housingName(pin).replace(/-\d+$/, '')} at position ${pin.split('-').at(-1)}.`,
        2,
        'on',
        1,
        outcomes(['held', 'Held'], ['dropped', 'Dropped out'], ['never', 'It never registered']),
      ),
      0.02,
      (mode) => {
        const element = at.element(mode);
        if (mode.behaviour !== 'intermittent') return stops(at, number, () => false)(mode) && { outcome: 2, sure };
        if (mode.effect.does !== 'cut' || !element?.serves.has(number)) return null;
        return { outcome: 1, sure: element.pin === pin ? 0.7 : 0.1 };
      },
    ),
  joint: (at, pin = '') =>
    signProbe(
      test(
        `joint ${pin}`,
        `Look at the solder of ${pin} and at its terminal, with a magnifier and a light from the side.`,
        3,
        'off',
        0,
        outcomes(['sound', 'Both look sound'], ['ring', 'A ring in the solder'], ['worn', 'Terminal brown or loose']),
      ),
      0.05,
      (mode) => {
        const element = at.element(mode);
        if (element?.pin !== pin) return null;
        return element.id.startsWith('joint ') ? { outcome: 1, sure: 0.65 } : { outcome: 2, sure: 0.4 };
      },
    ),
  ohms: (at, net = '') =>
    signProbe(
      test(
        `ohms ${net}`,
        // A closed switch shows its diode one way round, some hundred ohms: that is no short.
        `Unplugged, measure ${lower(netTitle(at.network.chart, net))} to ground and to every other switch line, both ways round: nowhere below 10 Ω.`,
        3,
        'unplugged',
        0,
        outcomes(['clear', 'No short'], ['ground', 'Short to ground'], ['line', 'Short to another line']),
      ),
      0.03,
      ({ effect }) => {
        const onLine = (number: string) => at.network.circuits.some((c) => c.number === number && c.nets.includes(net));
        if ((effect.does === 'to-ground' || effect.does === 'to-supply') && effect.line === net)
          return { outcome: effect.does === 'to-ground' ? 1 : 2, sure: 0.9 };
        if (effect.does === 'join' && effect.lines.includes(net)) return { outcome: 2, sure: 0.9 };
        if (effect.does === 'bypass-both' && onLine(effect.switch)) return { outcome: 2, sure: 0.9 };
        return null;
      },
    ),
  ground: (at, number = '') => {
    if (!at.network.elements.has(`diode ${number}`)) return null;
    return signProbe(
      test(
        `ground ${number}`,
        `Unplugged, measure from the lug between contact and diode of ${circuitName(at, number)} to ground: no reading.`,
        1.5,
        'unplugged',
        0,
        outcomes(['clear', 'No reading'], ['ground', 'Below 10 Ω']),
      ),
      0.02,
      ({ effect }) => (effect.does === 'middle-to-ground' && effect.switch === number ? { outcome: 1, sure } : null),
    );
  },
  plug: ({ network: { chart } }, header = '') => plugProbe(chart, header),
  emitter: (at, number = '') =>
    signProbe(
      test(
        `emitter ${number}`,
        `Look at the emitter of ${circuitName(at, number)} through a telephone camera.`,
        1,
        'on',
        1,
        outcomes(['glows', 'It glows'], ['dark', 'Dark']),
      ),
      0.05,
      (mode) => {
        const element = at.element(mode);
        if (mode.effect.does !== 'cut' || !element?.serves.has(number)) return null;
        if (element.id.startsWith('emitters ')) return { outcome: 1, sure: mode.behaviour === 'hard' ? 0.95 : 0.3 };
        return mode.kind === 'optical pair' && element.id === `contact ${number}`
          ? { outcome: 1, sure: mode.behaviour === 'hard' ? 0.35 : 0.05 }
          : null;
      },
    ),
  average: (at, net = '') => {
    const pin = at.network.chart.taps.get(net)?.[0]?.pin;
    if (!pin) return null;
    const title = `Measure the average of ${lower(netTitle(at.network.chart, net))} at ${pin} to logic ground, d.c.`;
    const flat = at.wiring.strobeLow ? 'At the supply, flat' : 'Near zero, flat';
    const stuck = at.wiring.strobeLow ? 'Near zero' : 'At the supply';
    return signProbe(
      test(`average ${net}`, title, 1, 'on', 1, outcomes(['strobed', 'A little off its rest level'], ['flat', flat], ['stuck', stuck])),
      0.03,
      (mode) => {
        const element = at.element(mode);
        const { effect } = mode;
        if (effect.does === 'driver-on' && effect.line === net) return { outcome: 2, sure: 0.9 };
        if ((effect.does === 'to-ground' || effect.does === 'to-supply') && effect.line === net)
          return { outcome: (effect.does === 'to-ground') === at.wiring.strobeLow ? 2 : 1, sure: 0.85 };
        // A cracked joint may make contact under the probe.
        if (effect.does === 'cut' && element?.id === `joint ${pin}`) return { outcome: 1, sure: mode.behaviour === 'hard' ? 0.6 : 0.2 };
        if (effect.does !== 'cut' || !element || !/^(driver|package|matrix)/.test(element.id) || !element.lines.includes(net)) return null;
        return { outcome: 1, sure: mode.behaviour === 'hard' ? 0.9 : 0.2 };
      },
    );
  },
};

/** Continuity from the far half of an in-line connector: it cuts the way between plug and lug in two. */
function beyondProbe(at: At, pin: string, number: string): Probe | null {
  const { chart } = at.network;
  const through = chart.through.get(pin);
  const path = at.network.path.get(number) ?? [];
  const [here, contact] = [path.indexOf(`inline ${pin}`), path.indexOf(`contact ${number}`)];
  if (!through || here < 0) return null;
  const beyond = new Set(path.slice(Math.min(here, contact) + 1, Math.max(here, contact)));
  const title = `Part ${through.header} and measure from position ${through.position} of its far half to the ${lower(netTitle(chart, through.net))} lug of ${number}: below 1 Ω, also while you move the wire.`;
  return signProbe(
    test(`continuity ${pin} ${number}`, title, 3, 'unplugged', 0, outcomes(['good', 'Below 1 Ω'], ['open', 'Open or jumps'])),
    0.02,
    (mode) => {
      if (mode.effect.does !== 'cut' || !beyond.has(mode.element) || !/^(run|splice|inline|tail) /.test(mode.element)) return null;
      return { outcome: 1, sure: mode.behaviour === 'hard' ? sure : watched };
    },
  );
}

function test(id: string, title: string, minutes: number, power: Test['power'], hazard: Test['hazard'], of: Test['outcomes']): Test {
  return { id, title, minutes, power, hazard, outcomes: of };
}

/** Names with more than one word stand first when an id is read. */
const kinds = Object.keys(makers).sort((a, b) => b.length - a.length);

const made = new WeakMap<Wiring, Map<string, Probe | null>>();

/** A bench test by its id, such as `wiggle A3J4-7 46`; null when the chart has no such place. Made once. */
export function probeOf(wiring: Wiring, id: string): Probe | null {
  let known = made.get(wiring);
  if (!known) {
    known = new Map();
    made.set(wiring, known);
  }
  let probe = known.get(id);
  if (probe === undefined) {
    probe = make(wiring, id);
    known.set(id, probe);
  }
  return probe;
}

function make(wiring: Wiring, id: string): Probe | null {
  const kind = kinds.find((name) => id === name || id.startsWith(`${name} `));
  const maker = kind === undefined ? undefined : makers[kind];
  if (!kind || !maker) return null;
  const args = id.slice(kind.length).trim().split(' ').filter(Boolean);
  const { network } = wiring;
  const numbers = args.filter((arg) => network.circuits.some((c) => c.number === arg));
  const places = args.filter((arg) => !numbers.includes(arg));
  const there = places.every(
    (p) => network.chart.pins.has(p) || connectorOf(network.chart, p) || network.chart.through.has(p) || network.chart.nets.has(p),
  );
  if (!there || (args.length === 0) !== (kind === 'rest' || kind === 'all unplugged')) return null;
  return maker({ wiring, network, element: (mode) => network.elements.get(mode.element) }, ...args);
}

/** Ids of the bench tests that can say something about a switch that behaves wrongly. */
export function testsFor(wiring: Wiring, number: string, seen: { alwaysOn: boolean }): string[] {
  const { network } = wiring;
  const circuit = network.circuits.find((c) => c.number === number);
  if (!circuit) return [];
  const path = (network.path.get(number) ?? []).flatMap((id) => network.elements.get(id) ?? []);
  const pins = [...new Set(path.flatMap((e) => (e.pin && e.id.startsWith('terminal ') ? [e.pin] : [])))];
  const inline = path.flatMap((e) => (e.pin && e.id.startsWith('inline ') ? [e.pin] : []));
  const headers = [...new Set([...pins, ...inline].map((pin) => pin.replace(/-\d+$/, '')))];
  const matrix = circuit.kind === 'matrix';
  return [
    ...(matrix ? ['rest'] : []),
    ...(matrix && seen.alwaysOn && circuit.normally !== 'closed' ? ['all unplugged'] : []),
    `jumper ${number}`,
    ...(matrix ? [`jumper with diode ${number}`, `bridge ${number}`, `diode ${number}`] : []),
    ...pins.flatMap((pin) => [`wiggle ${pin} ${number}`, `continuity ${pin} ${number}`, `joint ${pin}`]),
    ...inline.flatMap((pin) => [`wiggle ${pin} ${number}`, `continuity ${pin} ${number}`, `parted ${pin}`]),
    ...circuit.nets.map((net) => `ohms ${net}`),
    ...circuit.nets.filter((net) => net.startsWith('switch-column')).map((net) => `average ${net}`),
    ...headers.map((header) => `plug ${header}`),
    ...(circuit.device === 'opto' ? [`emitter ${number}`] : []),
  ];
}
