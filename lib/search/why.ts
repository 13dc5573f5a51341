/** Why a fix was found, in words, strongest first. Pure. */
import type { Fact } from '@/lib/widgets/definition';
import type { Item } from './ask';
import type { Hit } from './fix-index';
import type { Group } from './score';

const strength: Record<Group, number> = { clue: 5, device: 3, does: 3, sort: 0, when: 2, cause: 2, words: 1, machine: 0.9, extent: 0.8 };
const faint = 0.3; // what fits less than this is no reason

/** A page as far as its own words are reasons. */
export interface Told {
  title: string;
  body: string;
  facts: readonly Pick<Fact, 'kind' | 'value' | 'label'>[];
}

export function whyOf({ fits }: Hit, told: Told): string[] {
  const reasons = fits.flatMap(({ item, feature, value }) => {
    const text = wordsFor(feature, item, told);
    const clue = item.group === 'clue' || item.group === 'machine';
    if (!text || (!clue && value < faint) || (item.group === 'words' && item.weight === 0)) return [];
    return [{ text, strength: strength[item.group] * value }];
  });
  reasons.sort((a, b) => b.strength - a.strength);
  const texts = [...new Set(reasons.map(({ text }) => text))];
  // "spinner" says as much as 'says “spinner”'.
  return texts.filter((text) => {
    const word = /^says “([^”]+)”$/.exec(text)?.[1];
    return !word || !texts.some((other) => other !== text && !other.startsWith('says ') && other.toLowerCase().split(/\s+/).includes(word));
  });
}

function wordsFor(feature: string, { why: own, also = [] }: Item, { title, body, facts }: Told): string {
  const [kind = '', rest = ''] = feature.split(/:(.*)/s);
  const value = rest.replace(/@.*/, '');
  const label = facts.find((f) => f.kind === (kind === 'at-wire' ? 'wire' : kind) && f.value === value)?.label ?? value;
  if (kind === 'wire' || kind === 'at-wire') return `${label} is on this repair`;
  if (kind === 'pin') return `touches ${label}`;
  if (kind === 'place') return `was at ${value}`;
  if (kind === 'header') return `touches connector ${label}`;
  if (kind === 'circuit') return `is about ${label}`;
  if (kind === 'sibling') return `${label} shares a line with it`;
  if (kind === 'board-design') return `same board design ${label}`;
  if (kind === 'machine') return `on ${label}`;
  if (kind === 'c' && own) {
    const via = also.find((words) => new RegExp(`\\b${words}\\b`, 'i').test(`${title}\n${body}`));
    return via ? own.replace(/^says /, `says “${via}” for `) : own;
  }
  return own;
}
