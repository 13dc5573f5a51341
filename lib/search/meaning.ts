/** What a page says, as facts, held against what it said before. */
import type { Fact } from '@/lib/widgets/definition';

/** Facts that come and facts that go, by their labels; a fact that a page has twice counts once. */
export interface FactChanges {
  gains: string[];
  loses: string[];
}

/** Null when the page means the same. The order of facts means nothing. */
export function factChanges(before: readonly Fact[], after: readonly Fact[]): FactChanges | null {
  const keyed = (facts: readonly Fact[]) => new Map(facts.map((fact) => [`${fact.kind} ${fact.value} ${fact.label}`, fact.label]));
  const [old, now] = [keyed(before), keyed(after)];
  const only = (these: Map<string, string>, those: Map<string, string>) => [
    ...new Set([...these].flatMap(([key, label]) => (those.has(key) ? [] : [label]))),
  ];
  const changes = { gains: only(now, old), loses: only(old, now) };
  return changes.gains.length + changes.loses.length > 0 ? changes : null;
}
