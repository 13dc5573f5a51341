/** Why a test comes next, and what is known already, in words. */
import { netTitle } from '../../chart/names';
import type { Element, Test } from '../types';
import type { Gain, Weighed } from '../weigh';
import { listed } from '../words';
import type { Case } from './case';

const percent = (share: number) => `${Math.round(share * 100)} %`;
const sureShare = 0.5;

/** What is known already, and what the test would settle. */
export function reasonFor(about: Case, weighed: Weighed, test: Test, gain: Gain): string {
  const known = clearedBy(about)[0];
  const forecasts = test.outcomes
    .flatMap((outcome, k) => {
      const [element, share] = topOf(gain.after[k]?.() ?? new Map());
      const before = weighed.only.get(element) ?? 0;
      return share >= sureShare && share > before + 0.1 ? [{ outcome, element, share, chance: gain.chance[k] ?? 0 }] : [];
    })
    .sort((a, b) => b.chance * b.share - a.chance * a.share);
  const [best] = forecasts;
  const name = best && about.space.elements.get(best.element)?.name;
  if (best && name)
    return [known, `If the answer is “${best.outcome.label}”, it is ${lower(name)} with ${percent(best.share)}.`].filter(Boolean).join(' ');
  const ruled = [...weighed.only].sort((a, b) => b[1] - a[1]).slice(0, 3);
  const names = ruled.map(([id]) => lower(about.space.elements.get(id)?.name ?? id));
  return [known, names.length > 1 ? `It parts ${listed(names)} from one another best for the time it takes.` : '']
    .filter(Boolean)
    .join(' ');
}

const lower = (text: string) => (/^[A-Z]\d/.test(text) ? text : text.charAt(0).toLowerCase() + text.slice(1));

function topOf(shares: ReadonlyMap<string, number>): [string, number] {
  let top: [string, number] = ['', 0];
  for (const entry of shares) if (entry[1] > top[1]) top = entry;
  return top;
}

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

/** The name of an element as a sentence goes on with it. */
export const named = (element: Element | undefined): string => (element ? lower(element.name) : '');
