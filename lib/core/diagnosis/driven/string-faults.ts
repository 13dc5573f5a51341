/** Everything that can be at fault around a string of lamps, from its winding to its last socket. Both legs count. */
import type { Illumination } from '../../chart/schema';
import type { Chart, Tap } from '../../chart/types';
import { type FaultList, seat, type WeightOf } from './driven-parts';
import { perChart } from './per-chart';
import { splitOf } from './priors-driven';
import { actsNow, hard, harm, type Way } from './scenes';
import type { StringHarm } from './string-table';

export interface Leg {
  net: string;
  name: 'feed' | 'return';
  pins: Tap[];
}

/** The two legs of a string with the pins that carry them at the connector it hangs on. */
export const legsOf = perChart(legsIn, ({ id }: Illumination) => id);

function legsIn(chart: Chart, string: Illumination): Leg[] {
  const given = string.taps ? new Set(string.taps) : null;
  const pins = (net: string) => (chart.taps.get(net) ?? []).filter((tap) => !given || given.has(tap.pin));
  return [
    { net: string.net, name: 'feed', pins: pins(string.net) },
    { net: string.back, name: 'return', pins: pins(string.back) },
  ];
}
export const pinsOf = (chart: Chart, string: Illumination): string[] => legsOf(chart, string).flatMap((leg) => leg.pins.map((p) => p.pin));
/** Pins of the same leg in the same connector, itself left out. */
export const besideOf = (leg: Leg, tap: Tap): string[] => leg.pins.filter((p) => p !== tap && p.header === tap.header).map((p) => p.pin);
export const stringFuse = (chart: Chart, string: Illumination): string =>
  string.fuse ?? chart.nets.get(string.net)?.fuse ?? `fuse of ${string.id}`;

export function stringFaults(list: FaultList<StringHarm>, chart: Chart, priors: WeightOf, string: Illumination, complained: boolean): void {
  const { id } = string;
  const on = [id];
  const fuse = stringFuse(chart, string);
  const add = (element: string, name: string, detail: string, place: string, fault: 'fuse' | 'supply' | 'lamp' | 'broken-wire' | 'short') =>
    list.element({ id: element, name, detail, place, fault }, complained, {
      nets: string.net === string.back ? [string.net] : [string.net, string.back],
    });
  const ways = (kind: string, cut: StringHarm, high: StringHarm[], flicker: StringHarm, mark?: string): Way<StringHarm>[] => {
    const { hard: open, resistive, loose } = splitOf(kind);
    const seen = mark ? [harm('mark' as const, [mark])] : [];
    return [
      { harms: [harm(cut, on), ...seen], share: open, words: 'open' },
      { harms: [...high.map((h) => harm(h, on)), ...seen], share: resistive, words: 'high resistance' },
      { harms: [harm(flicker, on), ...seen], share: loose * actsNow, words: 'now and then' },
      { harms: seen, share: loose * (1 - actsNow), words: 'now and then' },
    ];
  };
  add(`fuse ${id}`, `Fuse ${fuse}`, `of ${id}, blown by itself`, fuse, 'fuse');
  list.fault(`fuse ${id}`, 'blown', priors('fuse'), hard(harm('fuse-open', on)));
  add(`clip ${id}`, `Clips of ${fuse}`, `of ${id}, tired spring`, fuse, 'fuse');
  list.fault(`clip ${id}`, 'bad', priors('string-clip'), ways('string-clip', 'dark', ['dim', 'clip-high'], 'flicker', `clip ${id}`));
  add(`dimmer ${id}`, `Relay or dimmer of ${id}`, string.name, id, 'supply');
  list.fault(`dimmer ${id}`, 'bad', priors('string-dimmer'), ways('string-dimmer', 'dark', ['dim'], 'flicker'));
  add(`winding ${id}`, `Winding of ${id}`, 'secondary of the transformer', id, 'supply');
  list.fault(`winding ${id}`, 'open', priors('string-winding'), hard(harm('dark', on)));
  for (const leg of legsOf(chart, string)) {
    add(`bus ${leg.net}`, `Bus wire of ${id}, ${leg.name}`, 'between its sockets', id, 'broken-wire');
    list.fault(`bus ${leg.net}`, 'bad', priors('string-bus'), ways('string-bus', 'dark-beyond', ['dim-beyond'], 'flicker'));
    for (const tap of leg.pins) pinFaults(list, chart, priors, string, leg, tap, complained);
  }
  add(`socket ${id}`, `A socket of ${id}`, `${string.lamps} sockets`, id, 'lamp');
  list.fault(`socket ${id}`, 'bad', priors('string-socket'), ways('string-socket', 'one-dark', ['flicker'], 'flicker'));
  add(`lamp ${id}`, `A lamp of ${id}`, `${string.lamps} lamps`, id, 'lamp');
  list.fault(`lamp ${id}`, 'dead', priors('string-lamp'), hard(harm('one-dark', on), harm('lamp-dead', on)));
  add(`short ${id}`, `Short in ${id}`, 'a base, a socket, the bus to the frame or to another string', id, 'short');
  list.fault(`short ${id}`, 'short', priors('string-short'), hard(harm('shorted', on)));
}

const half = 0.5; // how often one bad pin of several side by side can be seen as a dim string (from memory)

function pinFaults(
  list: FaultList<StringHarm>,
  chart: Chart,
  priors: WeightOf,
  { id }: Illumination,
  leg: Leg,
  tap: Tap,
  complained: boolean,
) {
  const beside = besideOf(leg, tap);
  const alone = beside.length === 0;
  const side = alone ? `${leg.name} of ${id}` : `${leg.name} of ${id}, one of ${beside.length + 1} side by side`;
  const termination = chart.headers.get(tap.header)?.termination ?? 'crimp';
  const place = { terminal: seat(tap.pin), joint: tap.pin };
  for (const spot of ['terminal', 'joint'] as const) {
    const element = `${spot} ${tap.pin}`;
    const name = spot === 'terminal' ? `Terminal ${place.terminal}` : `Header joint ${tap.pin}`;
    const detail = spot === 'terminal' ? `${termination}, ${side}` : side;
    list.element(
      { id: element, name, detail, place: place[spot], fault: spot === 'terminal' ? 'scorched-connector' : 'cracked-joint' },
      complained,
      { nets: [leg.net] },
    );
    const { hard: open, resistive, loose } = splitOf(`string-${spot}`);
    const high = [harm(`${spot}-high` as const, [tap.pin]), harm('mark' as const, [element])];
    const gone = [harm(`${spot}-open` as const, [tap.pin]), harm('mark' as const, [element])];
    list.fault(
      element,
      'bad',
      priors(`string-${spot}`),
      [
        { harms: alone ? [...gone, harm('dark', [id])] : gone, share: open, words: 'open' },
        { harms: [...high, harm('dim', [id])], share: resistive * (alone ? 1 : half), words: 'high resistance' },
        { harms: high, share: resistive * (alone ? 0 : 1 - half), words: 'high resistance' },
        { harms: [...high, harm('flicker', [id])], share: loose * (alone ? 1 : half), words: 'now and then' },
        { harms: high, share: loose * (alone ? 0 : 1 - half), words: 'now and then' },
      ],
      tap.header,
    );
  }
}
