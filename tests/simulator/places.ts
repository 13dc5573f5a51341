/**
 * Where the simulator's places lie in the elements of the fault finder. The simulator breaks finer things than a person can tell apart by
 * any test that is offered; there the truth counts as found when it lies inside the element that is named:
 *
 * | element of the fault finder | places of the simulator inside it |
 * |---|---|
 * | `driver C`, `input R` | driver or receiver with its latch, its trace and socket; for a row also the pull |
 * | `joint P` | solder joint |
 * | `terminal P` | spring on the pin, terminal on its wire |
 * | `inline X-p` | contact of an in-line connector, and the crimp on either side of it |
 * | `run L P n` | wire that arrives at n, its joint there (n and all beyond hang on it), the splice position of the branch that starts at n |
 * | `splice L s` | wire that arrives at the splice, its incoming position |
 * | `tail L n` | tail of the lug of n on that line |
 * | `contact n` | contact; of an optical switch emitter, detector, window and interface |
 * | `diode n`, `insulation n`, `package U`, `plug H`, `select b` | the same; a contact that the blade stack bypasses is contact or insulation, and
 * contact in a direct switch |
 * | `short L` | line to ground or supply |
 * | `plugs H I` | the plugs of two headers that have changed places |
 * | `join L M`, `exchanged H-p` | two lines of one housing that touch, or whose wires have changed places |
 * | `emitters S` | supply of emitters |
 * | `ground return`, `tail ground n` | joints, pins and wires of the ground line of direct switches; the lug of one on it |
 */
import type { Chart } from '@/lib/core/chart';
import type { Possible } from './possible';

/** Ids of the elements that hold the place of a fault. Throws for a place that the table does not name. */
export function elementsWith(chart: Chart, { place, sort, what }: Pick<Possible, 'place' | 'sort' | 'what'>): string[] {
  const [kind = '', first = '', ...more] = place.split(' ');
  const to = place.split(' > ')[1];
  const netOf = (pin: string) => chart.pins.get(pin)?.net ?? '';
  const isGround = (net: string) => chart.nets.get(net)?.kind === 'ground';
  switch (kind) {
    case 'driver':
    case 'input':
    case 'joint':
    case 'terminal':
    case 'pin': {
      if ('at' in what && typeof what.at === 'object' && 'pin' in what.at && isGround(netOf(first))) return ['ground return'];
      return [`${kind === 'pin' ? 'terminal' : kind} ${first}`];
    }
    case 'inline':
    case 'inline-crimp':
      return [`inline ${first}`];
    case 'trace':
      return [`driver ${first}`, `input ${first}`];
    case 'pull':
      return [`input ${first}`];
    case 'segment':
    case 'join':
    case 'splice': {
      const net = netOf(first);
      if (isGround(net)) return ['ground return'];
      const splice = kind === 'splice' && to === undefined ? more[0] : to?.startsWith('splice ') ? to.slice('splice '.length) : undefined;
      return [splice === undefined ? `run ${net} ${first} ${to}` : `splice ${net} ${splice}`];
    }
    case 'lug': {
      const nets = chart.circuit.get(first)?.nets ?? [];
      const side = more[0];
      return [`tail ${side === 'row' ? nets[1] : side === 'ground' ? 'ground' : nets[0]} ${first}`];
    }
    case 'emitter':
    case 'detector':
    case 'window':
    case 'interface':
      return [`contact ${first}`];
    case 'insulation':
      return [chart.circuit.get(first)?.kind === 'direct' ? `contact ${first}` : place];
    case 'contact':
      return sort === 'insulation' ? [place, `insulation ${first}`] : [place];
    case 'line':
      return [`short ${first}`];
    case 'lines':
      return [`join ${[first, more[1]].sort().join(' ')}`];
    case 'wires': {
      const header = 'header' in what ? what.header : '';
      const pins = ((chart.headers.get(header ?? '') ?? chart.inline.get(header ?? ''))?.pins ?? []).filter(
        (pin) => pin.net === first || pin.net === more[1],
      );
      return [`exchanged ${header}-${Math.min(...pins.map((pin) => pin.position))}`];
    }
    case 'supply':
      return [`emitters ${first}`];
    case 'diode':
    case 'package':
    case 'plug':
    case 'plugs':
    case 'select':
      return [place];
    default:
      throw new Error(`No element of the fault finder holds ${place}.`);
  }
}
