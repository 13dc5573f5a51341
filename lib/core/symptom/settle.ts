/** What follows from the terms of a reading together. */
import type { Found } from './found';
import type { Lexicon } from './lexicon';
import type { SignKind, Term, TermKind } from './types';

const inPassing = 0.4;

/** What a sentence names first is what it speaks of; further devices that do not stand beside it in a list are named in passing. */
export function passing(found: readonly Found[], terms: Term[], sentence: string) {
  let first: Found | null = null;
  for (const k of found
    .map((_, n) => n)
    .filter((n) => found[n]!.kind === 'device' && !terms[n]!.without)
    .sort((a, b) => found[a]!.from - found[b]!.from)) {
    const f = found[k]!;
    if (
      first &&
      f.value !== first.value &&
      !/[.:?!]/.test(sentence.slice(first.span[1], f.span[0])) &&
      !joins.test(sentence.slice(first.span[1], f.span[0]))
    )
      terms[k]!.chance = inPassing;
    else first = f;
  }
}

const general = new Set(['switch', 'lamp', 'coil', 'connector', 'illumination']);
/** Devices that a sentence means only where it names no other. */
export const anywhere = new Set(['switch', 'connector', 'board', 'supply', 'coil']); // "sets off another switch"

function withoutGeneral(terms: Term[]): Term[] {
  const special = terms.some((t) => (t.kind === 'device' && !anywhere.has(t.value)) || t.kind === 'name');
  return special ? terms.filter((t) => t.kind !== 'device' || !anywhere.has(t.value)) : terms;
}

const facing: Record<string, string> = { left: 'right', right: 'left' };
/** "Flipper weak, not the left one": the right one, then. */
function opposite(terms: Term[]): Term[] {
  const not = terms.find((t) => t.kind === 'side' && t.without && facing[t.value]);
  const devices = terms.filter((t) => t.kind === 'device' && !t.without);
  if (!not || devices.length !== 1 || devices[0]?.side) return terms;
  return terms.map((t) => (t === devices[0] ? { ...t, side: facing[not.value]! } : t));
}

const joined = /^\W*(?:(?:and|or|plus|as well as|the|a|both|also|my|left|right|upper|lower|top|bottom|first|second|third|other)\W+)*$/i;
const joins = /,|&|\+|\b(?:and|plus|as well as)\b/i;
/** "The left and the right sling", "the spinner, the gate". */
const listed = (found: readonly Found[], sentence: string): boolean => {
  const named = found.filter((f) => (f.kind === 'device' && !general.has(f.value)) || f.kind === 'side').sort((a, b) => a.from - b.from);
  return named.some((f, k) => {
    const next = named[k + 1];
    if (!next || (f.kind === 'device' && next.kind === 'side' && next.from === f.to) || f.value === next.value) return false;
    const between = sentence.slice(f.span[1], next.span[0]);
    return joined.test(between) && joins.test(between);
  });
};

const wide: SignKind = 'extent';

/** What follows from the terms together: a fault that comes and goes is not dead; two devices are several. */
export function settle(terms: Term[], sentence: string, stems: string[], found: Found[], lexicon: Lexicon): Term[] {
  const has = (kind: TermKind, value: string) => terms.some((t) => t.kind === kind && t.value === value && !t.without);
  const says = (kind: TermKind, value: string) => terms.some((t) => t.kind === kind && t.value === value && !t.without && t.text !== '');
  let left = terms;
  const drop = (kind: TermKind, value: string) => {
    left = left.filter((t) => t.kind !== kind || t.value !== value || t.without);
  };
  const when =
    stems.some((stem) => stem === 'when' || stem === 'whenev') || found.some((f) => f.kind === 'does' && f.value === 'with-another');
  const distinct = new Set(
    terms.filter((t) => t.kind === 'device' && !t.without && !anywhere.has(t.value)).map((t) => `${t.value} ${t.side ?? ''}`),
  );
  if (when && distinct.size > 1 && !terms.some((t) => t.kind === 'does' && t.text !== ''))
    left = [
      ...left.filter((t) => t.kind !== 'does'),
      { kind: 'does', value: 'with-another', label: lexicon.nameOf('does', 'with-another'), text: '' },
    ];
  if (has('when', 'after-repair')) for (const other of ['touched', 'stood']) drop('when', other);
  if (says('does', 'sometimes')) drop('does', 'dead');
  if (says('does', 'blows-fuse')) drop('does', 'dead');
  // "Two points instead of one", "another one as well": no exchange.
  if (says('does', 'twice') || says('does', 'with-another')) drop('does', 'wrong-one');
  left = withoutGeneral(opposite(left));
  const extents = ['everything', 'line', 'bank', 'several'].filter((id) => has(wide, id));
  const every = found.find(
    (f) =>
      f.kind === 'device' &&
      stems.slice(Math.max(0, f.from - 2), f.from).some((s) => s === 'all' || s === 'everi' || s === 'none' || s === 'each' || s === 'no'),
  );
  let extent = extents.includes('line') ? 'line' : extents[0];
  const said = extent !== undefined;
  if (!extent && every) extent = general.has(every.value) ? 'everything' : 'bank';
  if (!extent) extent = listed(found, sentence) ? 'several' : 'one';
  if (said) for (const other of extents) if (other !== extent) drop(wide, other);
  if (!said)
    left = [
      ...left,
      { kind: wide, value: extent, label: extent === 'one' ? 'one' : lexicon.nameOf(wide, extent), text: '', implied: true },
    ];
  return left;
}
