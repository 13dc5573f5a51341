/** Why a test comes next, in words. */
import type { Element, Test } from './types';
import type { Gain, Weighed } from './weigh';
import { listed, lower, percent } from './words';

const sureShare = 0.5;
const clearlyMore = 0.1;
const suspicious = 0.01; // suspects that are worth a word
const nearlyNone = 0.1; // of the share it had
const mostNamed = 3;

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
    return [known, `If the answer is “${best.outcome.label}”, it is ${percent(best.share)} likely to be ${lower(name)}.`]
      .filter(Boolean)
      .join(' ');
  return [known, clearing(elements, weighed, test, gain)].filter(Boolean).join(' ');
}

/** The answer that would take most suspicion away, and from what. */
function clearing(elements: ReadonlyMap<string, Element>, weighed: Weighed, test: Test, gain: Gain): string {
  const suspects = [...weighed.only].filter(([, share]) => share >= suspicious).sort((a, b) => b[1] - a[1]);
  const [best] = test.outcomes
    .map((outcome, k) => {
      const after = gain.after[k]?.() ?? new Map<string, number>();
      const freed = suspects.filter(([id, share]) => (after.get(id) ?? 0) < share * nearlyNone);
      return { outcome, freed, worth: (gain.chance[k] ?? 0) * freed.reduce((sum, [, share]) => sum + share, 0) };
    })
    .sort((a, b) => b.worth - a.worth);
  if (!best || best.worth === 0) return suspects.length > 1 ? 'Of all tests it tells most for the time it takes.' : '';
  const names = best.freed.map(([id]) => lower(elements.get(id)?.name ?? id));
  return `If the answer is “${best.outcome.label}”, that all but clears ${listed(named(names))}.`;
}

/** The first few; a comma within a name would look like the end of it. */
function named(names: readonly string[]): string[] {
  const shown = names.slice(0, mostNamed).map((name) => name.replace(/, (.*)$/, ' ($1)'));
  const more = names.length - shown.length;
  return more > 0 ? [...shown, more === 1 ? 'one place more' : `${more} places more`] : shown;
}

function topOf(shares: ReadonlyMap<string, number>): [string, number] {
  let top: [string, number] = ['', 0];
  for (const entry of shares) if (entry[1] > top[1]) top = entry;
  return top;
}
