/** What the weighed evidence comes to, in words: the standing, the suspects, the verdict. The same for everything that can be at fault. */
import { type Advice, isWorthwhile } from './advice';
import type { FaultClass } from './classes';
import type { Element } from './types';
import type { Weighed } from './weigh';
import { listed, lower, percent } from './words';

export interface Suspect extends Element {
  share: number; // chance that it is at fault, alone or with another
  how: string; // the likeliest way: "now and then", "open"
  mend?: string; // how that way is put right, where it is not plain
}
/** Something that was seen and that no fault of this chart explains. */
export interface Oddity {
  what: string;
  mend: string;
}
/**
 * How much is known: nothing seen yet; nothing wrong with what was seen; not enough to tell; one suspect ahead; one all but certain; or what
 * was seen fits no fault that this chart can have.
 */
export type Standing = 'empty' | 'well' | 'open' | 'ahead' | 'found' | 'odd';
export interface Finding {
  standing: Standing;
  verdict: string; // one sentence, and what to do when there is something
  suspects: readonly Suspect[];
  /** All that is not listed, no fault among it: its share, and in how many places it could be. */
  rest: { share: number; places: number };
  next: Advice | null;
  others: readonly Advice[];
  cleared: readonly string[];
  odd: readonly Oddity[];
  notes: readonly string[];
  /** Share of each element; those not named have next to none. */
  shares: ReadonlyMap<string, number>;
  /** Suspicion that lies at the switch, load or lamp itself, by number, and in each line, by net. */
  onSwitch: ReadonlyMap<string, number>;
  onLine: ReadonlyMap<string, number>;
  /** Smallest sets of elements that explain all dead switches by hard breaks alone: a cross-check, blind to shorts and to what comes and goes. */
  breaks: readonly (readonly string[])[];
}

export const certain = 0.95;
export const ahead = 0.6;
const shown = 0.02; // a suspect below this is not listed
const leastPlace = 1e-3; // a place less likely than this is not counted
const mostShown = 6;
const mostOthers = 5;

/** Nothing to weigh: the standing is 'empty' or 'well'. */
export const quietFinding = (standing: Standing, verdict: string, notes: readonly string[] = []): Finding => ({
  standing,
  verdict,
  suspects: [],
  rest: { share: 0, places: 0 },
  next: null,
  others: [],
  cleared: [],
  odd: [],
  notes,
  shares: new Map(),
  onSwitch: new Map(),
  onLine: new Map(),
  breaks: [],
});

export interface Weighing {
  weighed: Weighed;
  modes: readonly { id: string; element: string; words: string; mend?: string }[];
  elements: ReadonlyMap<string, Element>;
  focus(element: string): boolean;
  odd: readonly Oddity[];
  advice(): readonly Advice[]; // asked for when it is not found
}
type Judged = Pick<Finding, 'standing' | 'verdict' | 'suspects' | 'rest' | 'next' | 'others' | 'odd' | 'shares'>;

/** Suspects, standing, verdict and the next tests. */
export function judged({ weighed, modes, elements, focus, odd, advice }: Weighing): Judged {
  const suspects = suspectsOf({ weighed, modes, elements, focus });
  const unlisted = [...weighed.elements].filter(([id]) => focus(id) && !suspects.some((s) => s.id === id)).map(([, share]) => share);
  const places = unlisted.filter((share) => share > leastPlace).length;
  const standing = standingOf(suspects, odd);
  const tests = standing === 'found' ? [] : advice();
  const next = tests[0] && isWorthwhile(tests[0]) ? tests[0] : null;
  const others = (next ? tests.slice(1) : tests).slice(0, mostOthers);
  return {
    standing,
    verdict: verdictOf({ standing, suspects, places, next, others, odd }),
    suspects,
    rest: { share: Math.min(1, weighed.none + unlisted.reduce((sum, share) => sum + share, 0)), places },
    next,
    others,
    odd,
    shares: weighed.elements,
  };
}

function suspectsOf({ weighed, modes, elements, focus }: Pick<Weighing, 'weighed' | 'modes' | 'elements' | 'focus'>): Suspect[] {
  const likeliest = new Map<string, { share: number; mode: (typeof modes)[number] }>();
  for (const mode of modes) {
    const share = weighed.modes.get(mode.id) ?? 0;
    if (share > (likeliest.get(mode.element)?.share ?? 0)) likeliest.set(mode.element, { share, mode });
  }
  return [...weighed.elements]
    .filter(([id, share]) => share >= shown && focus(id))
    .sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1))
    .slice(0, mostShown)
    .flatMap(([id, share]) => {
      const element = elements.get(id);
      const { words: how = '', mend } = likeliest.get(id)?.mode ?? {};
      return element ? [{ ...element, fault: faultOf(element, how), share, how, ...(mend && { mend }) }] : [];
    });
}

/** The fault class follows from the way, where one element can fail in ways of different classes. */
export function faultOf({ id, fault }: Element, words: string): FaultClass {
  if (!id.startsWith('diode ')) return fault;
  if (words === 'reversed') return 'diode-reversed';
  return fault === 'diode-absent' && (words === 'shorted' || words === 'bypassed') ? 'diode-bypassed' : fault;
}

function standingOf([top]: readonly Suspect[], odd: readonly Oddity[]): Standing {
  if (odd.length > 0) return 'odd';
  if (!top) return 'open';
  return top.share >= certain ? 'found' : top.share >= ahead ? 'ahead' : 'open';
}

function verdictOf({
  standing,
  suspects,
  places,
  next,
  others,
  odd,
}: Omit<Judged, 'verdict' | 'rest' | 'shares'> & { places: number }): string {
  const [top] = suspects;
  if (standing === 'odd') return `What was seen fits no fault that this chart can have. ${odd[0]?.what ?? ''}`;
  if (!top) return 'Not enough to tell: nothing stands out.';
  const more = suspects.slice(1).filter((s) => s.share >= ahead);
  const also = more.length > 0 ? `, and ${listed(more.map((s) => `${named(s)}, ${percent(s.share)}`))}` : '';
  if (standing === 'found') return `It is ${named(top)}, ${percent(top.share)}${also}. Mend ${also ? 'them' : 'it'}, then prove it.`;
  const dear = others.length > 0 && 'What is left to test would take longer than it tells';
  if (standing === 'ahead')
    return `Most likely ${named(top)}, ${percent(top.share)}. ${next ? 'One more test before you mend.' : `${dear || 'No test that I know tells more'}: mend it, then prove it.`}`;
  const rest = places + suspects.length;
  return `Not enough to tell yet: ${rest} places could be at fault. ${next ? 'Do the next test.' : `${dear || 'No test that I know tells them apart'}.`}`;
}

/** The name of an element as a sentence goes on with it. */
export const named = (element: Element): string => lower(element.name);
