/** What is known already: what the switches that answer say of the lines they share with those that do not. */
import { netTitle } from '../../chart/names';
import { listed, lower } from '../words';
import type { Case } from './case';

/** What working switches on the same lines say, one sentence a line: "Column 4 is fine from the board to 44 and 45: both answer, 40 presses." */
export function clearedBy(about: Case): string[] {
  const { network, evidence, complaints } = about;
  const good = evidence.presses.filter((o) => o.missed === 0 && o.others.length === 0);
  const bad = network.circuits.filter((c) => complaints.includes(c.number));
  const comesAndGoes = evidence.presses.some((o) => o.missed > 0 && o.missed < o.presses);
  const nets = [...new Set(bad.flatMap((c) => c.nets))];
  return nets.flatMap((net) => {
    const answering = good.filter((o) => network.circuits.some((c) => c.number === o.number && c.nets.includes(net)));
    if (answering.length === 0) return [];
    const numbers = [...new Set(answering.map((o) => o.number))];
    const presses = answering.reduce((sum, o) => sum + o.presses, 0);
    const cleared = bad.some((c) => c.nets.includes(net) && sharedPath(about, c.number, numbers, net));
    const reach = cleared
      ? `${netTitle(network.chart, net)} is fine from the board to ${listed(numbers)}`
      : `${listed(numbers)} on ${lower(netTitle(network.chart, net))} answer${numbers.length === 1 ? 's' : ''}, but over another connector`;
    return [`${reach}: ${presses} presses.${comesAndGoes && cleared ? ' A fault that comes and goes there is not wholly excluded.' : ''}`];
  });
}

/** True when the bad switch and a good one hang behind the same tap of the line. */
function sharedPath({ network }: Case, bad: string, good: readonly string[], net: string): boolean {
  const taps = (network.path.get(bad) ?? []).flatMap((id) => {
    const element = network.elements.get(id);
    return element?.pin && element.lines.includes(net) ? [element] : [];
  });
  return taps.length === 0 || taps.some((element) => good.some((number) => element.serves.has(number)));
}
