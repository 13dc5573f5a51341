/** The phrases of a sentence that stand for something: those that others hold or describe go. */
import type { Hit } from './phrases';
import type { TermKind } from './types';

/** Characters of the sentence. */
export type Span = [from: number, to: number];
export const within = ([from, to]: Span, [start, end]: Span) => start <= from && to <= end;

/** The phrases of one list. */
export type Hits = (list: string) => Hit[];

/** A phrase found, with what it stands for. */
export interface Found {
  kind: TermKind;
  value: string;
  label: string;
  from: number;
  to: number;
  span: Span;
  also?: string[];
}

/** `shaken`: what only says that something jolts it. */
export const phrasesIn = (sentence: string, hits: Hits, shaken: Span | null): Found[] =>
  withoutDescription(withoutInner(findAll(hits))).filter((f) => isDevice(f, sentence) && !(shaken && inSpan(f, shaken)));

const kinds = ['does', 'extent', 'when', 'cause', 'device', 'side', 'name', 'concept'] as const;

const findAll = (hits: Hits): Found[] =>
  kinds.flatMap((kind) =>
    hits(kind).map(({ said: { id, name, also }, from, to, span }): Found => {
      const found: Found = { kind, value: id, label: name, from, to, span };
      if (also) found.also = also;
      return found;
    }),
  );

const kicks =
  /\b(?:when(?:ever)?|every time|each time|if|as)\s+(?:a|an|the|any|one of the|either)?\s*(?:\w+\s+)?(?:bumpers?|slings?|slingshots?|flippers?|coils?|kickers?|solenoids?)\s+(?:fires?|kicks?|pops?|flips?|go(?:es)? off|pulls? in)\b/i;

/** "Whenever a bumper fires": a jolt, not a device that anything is said of. */
export function shakenBy(sentence: string): Span | null {
  const found = kicks.exec(sentence);
  return found ? [found.index, found.index + found[0].length] : null;
}
const inSpan = ({ kind, span }: Found, jolt: Span) => (kind === 'device' || kind === 'name' || kind === 'concept') && within(span, jolt);

const wordBefore = (sentence: string, [from]: Span) =>
  /\p{L}+(?=[^\p{L}]*$)/u.exec(sentence.slice(Math.max(0, from - 20), from))?.[0]?.toLowerCase() ?? '';
const verbal = /^(not|never|to|will|won|can|t)$/;
const ofLights =
  /^(the|a|all|every|each|no|both|some|these|those|its|any|of|left|right|upper|lower|top|middle|one|two|three|four|five|insert|feature|)$/;

/** Words that are a device only as a noun: "the drop", "the light", not "drops", "sometimes lights". */
function isDevice({ kind, value, span }: Found, sentence: string): boolean {
  if (kind !== 'device' || (value !== 'drop-target' && value !== 'lamp')) return true;
  const text = sentence.slice(...span).toLowerCase();
  if (value === 'lamp') return !/^lights?$/.test(text) || ofLights.test(wordBefore(sentence, span));
  return !/^drop(s|ped|ping)?$/.test(text) || (text === 'drop' && !verbal.test(wordBefore(sentence, span)));
}

const generic = new Set(['lane', 'target', 'lamp', 'switch', 'coil', 'button', 'gate', 'illumination']);

/** "Ramp lane", "start button lamp": one device, which the other word only describes. */
function withoutDescription(all: Found[]): Found[] {
  const devices = all.filter(({ kind }) => kind === 'device');
  return all.filter(
    (a) =>
      a.kind !== 'device' ||
      !generic.has(a.value) ||
      !devices.some((b) => b !== a && b.value !== a.value && (b.to === a.from || a.to === b.from)),
  );
}

/**
 * A phrase means what it means as a whole: "too hot to touch" is no touching, "isn't the return lane" no missing return. Names and groups hold
 * words of their own.
 */
function withoutInner(all: Found[]): Found[] {
  const outer = all.filter(({ kind }) => kind === 'does' || kind === 'when' || kind === 'cause' || kind === 'device');
  const inside = (a: Found, b: Found) => b.from <= a.from && a.to <= b.to && b.to - b.from > a.to - a.from;
  const into = (a: Found, b: Found) => a.kind === 'does' && b.kind === 'device' && a.from < b.from && b.from < a.to && a.to < b.to;
  return all.filter(
    (a) =>
      !outer.some((b) => into(a, b)) &&
      ((a.kind === 'extent' && !outer.some((b) => b.kind === 'device' && inside(a, b))) ||
        !outer.some((b) => b !== a && b.kind !== a.kind && !(a.kind === 'name' && b.kind === 'device') && inside(a, b))),
  );
}
