/** Why a test comes next, in words. */
import type { Element, Test } from './types';
import type { Gain, Weighed } from './weigh';
import { listed, lower, percent } from './words';

const sureShare = 0.5;
const clearlyMore = 0.1;

/** What is known already, and what the test would settle. */
export function reasonOf(known: string, elements: ReadonlyMap<string, Element>, weighed: Weighed, test: Test, gain: Gain): string {
  const forecasts = test.outcomes
    .flatMap((outcome, k) => {
      const [element, share] = topOf(gain.after[k]?.() ?? new Map());
      const before = weighed.only.get(element) ?? 0;
      return share >= sureShare && share > before + clearlyMore ? [{ outcome, element, share, chance: gain.chance[k] ?? 0 }] : [];
    })
    .sort((a, b) => b.chance * b.share - a.chance * a.share);
  const [best] = forecasts;
  const name = best && elements.get(best.element)?.name;
  if (best && name)
    return [known, `If the answer is “${best.outcome.label}”, it is ${lower(name)} with ${percent(best.share)}.`].filter(Boolean).join(' ');
  const ruled = [...weighed.only].sort((a, b) => b[1] - a[1]).slice(0, 3);
  const names = ruled.map(([id]) => lower(elements.get(id)?.name ?? id));
  return [known, names.length > 1 ? `It parts ${listed(names)} from one another best for the time it takes.` : '']
    .filter(Boolean)
    .join(' ');
}

function topOf(shares: ReadonlyMap<string, number>): [string, number] {
  let top: [string, number] = ['', 0];
  for (const entry of shares) if (entry[1] > top[1]) top = entry;
  return top;
}
