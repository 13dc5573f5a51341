/** Looking at a plug, as a test: it tells apart every way in which a plug can be where it does not belong. */
import { connectorOf, isInline } from '../../chart/inline';
import { keysOnMachine } from '../../chart/keys';
import { positionLabel } from '../../chart/positions';
import type { Chart } from '../../chart/types';
import { housingName } from '../../chart/views';
import type { Probe } from '../types';
import { listed } from '../words';
import type { SwitchMode } from './mode';
import { type Sign, signProbe } from './signs';

const outcomes = [
  { id: 'right', label: 'All as the chart says' },
  { id: 'loose', label: 'Off, or not pushed home' },
  { id: 'over', label: 'A pin free at one end' },
  { id: 'turned', label: 'Turned round' },
  { id: 'elsewhere', label: 'On another header, whose own plug is off' },
  { id: 'exchanged', label: 'Changed places with another plug' },
  { id: 'order', label: 'Wires in another order' },
] as const;
type Seen = (typeof outcomes)[number]['id'];

/** By eye and without power: the name printed at the header, the key, the pins at both ends, the order of the wires. */
export function plugProbe(chart: Chart, header: string): Probe {
  const title = isInline(header)
    ? inlineTitle(chart, header)
    : `Look at ${housingName(header)}: on the header printed ${header}, pushed home, ${keyWords(chart, header)}, no pin free at either end, its wires in order.`;
  const sign = (mode: SwitchMode): Sign => {
    const seen = seenAt(header, mode);
    return seen && { outcome: outcomes.findIndex(({ id }) => id === seen), sure: seen === 'order' ? 0.8 : 0.95 };
  };
  return signProbe({ id: `plug ${header}`, title, minutes: 0.5, power: 'off', hazard: 0, outcomes }, 0.01, sign);
}

const inlineTitle = (chart: Chart, connector: string): string => {
  const { place = '' } = chart.inline.get(connector) ?? {};
  const where = place ? ` (${place})` : '';
  return `Look at ${connector}${where}: its own two halves, pushed home, ${keyWords(chart, connector)}, no pin free at either end, the wires of both halves in the same order.`;
};

/** What a fault makes of the plug of a header, if anything. */
function seenAt(header: string, { kind, element, effect }: SwitchMode): Seen | null {
  const own = element === `plug ${header}`;
  if (kind === 'housing unplugged') return own ? 'loose' : null;
  switch (effect.does) {
    case 'shifted':
      return own ? 'over' : null;
    case 'turned':
      return own ? 'turned' : null;
    case 'elsewhere':
      return own ? 'elsewhere' : effect.on === header ? 'loose' : null;
    case 'plugs-exchanged':
      return effect.headers.includes(header) ? 'exchanged' : null;
    case 'exchanged':
      return effect.header === header ? 'order' : null;
    default:
      return null;
  }
}

/** What shows where position 1 is: the key, or a mark where there is none. */
function keyWords(chart: Chart, id: string): string {
  const header = connectorOf(chart, id);
  const keys = keysOnMachine(chart, id).pins.map((key) => (header && positionLabel(header, key)) || `${key}`);
  return keys.length > 0 ? `its key at ${listed(keys)}` : 'its position 1 at the mark (it has no key)';
}
