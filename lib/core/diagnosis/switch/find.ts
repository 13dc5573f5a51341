/** The fault finder: from what was seen at switches to the likely faults and the next thing to touch. */
import type { Chart } from '../../chart/types';
import { type Advice, adviceFrom, type Power } from '../advice';
import type { FaultClass } from '../classes';
import { pathConflicts } from '../conflicts';
import { minimalHittingSets } from '../hitting-sets';
import type { Element } from '../types';
import { type Weighed, weigh } from '../weigh';
import { listed } from '../words';
import { type Case, caseOf, type Seen } from './case';
import { type Oddity, oddities } from './odd';
import type { FixCounts } from './priors';
import { clearedBy, named, reasonFor } from './reason';

export interface Suspect extends Element {
  share: number; // chance that it is at fault, alone or with another
  how: string; // the likeliest way: "now and then", "open"
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
  /** All that is not listed: its share, and in how many places it could be. */
  rest: { share: number; places: number };
  next: Advice | null;
  others: readonly Advice[];
  cleared: readonly string[];
  odd: readonly Oddity[];
  notes: readonly string[];
  /** Share of each element; those not named have next to none. */
  shares: ReadonlyMap<string, number>;
  /** For the matrix: suspicion that lies at the switch itself, by number, and in each line, by net. */
  onSwitch: ReadonlyMap<string, number>;
  onLine: ReadonlyMap<string, number>;
  /** Smallest sets of elements that explain all dead switches by hard breaks alone: a cross-check, blind to shorts and to what comes and goes. */
  breaks: readonly (readonly string[])[];
}

export const certain = 0.95;
export const ahead = 0.6;
const shown = 0.02; // a suspect below this is not listed
const mostShown = 6;

/** What the notebook's club has proved on this board design goes in as `counts`; `power` is the state that the machine is in now. */
export function findFault(chart: Chart, seen: Seen, counts: FixCounts = {}, power: Power = 'on'): Finding {
  const about = caseOf(chart, seen, counts);
  const nothing = about.evidence.presses.length + about.evidence.rest.length + about.evidence.hold.length === 0;
  if (nothing || about.complaints.length === 0) return quiet(about, nothing);
  const weighed = weigh(about.field, about.probes);
  const suspects = suspectsOf(about, weighed);
  const listedShare = suspects.reduce((sum, s) => sum + (weighed.only.get(s.id) ?? 0), 0);
  const places = [...weighed.only.values()].filter((share) => share > 1e-4).length - suspects.length;
  const odd = oddities(about, weighed);
  const standing = standingOf(suspects, odd);
  const advice =
    standing === 'found' ? [] : adviceFrom(about.probes, weighed.gains, power, (test, gain) => reasonFor(about, weighed, test, gain));
  return {
    standing,
    verdict: verdictOf(standing, suspects, places, advice.length > 0, odd),
    suspects,
    rest: { share: Math.max(0, 1 - listedShare), places: Math.max(0, places) },
    next: advice[0] ?? null,
    others: advice.slice(1, 6),
    cleared: clearedBy(about),
    odd,
    notes: about.network.notes.filter((note) => about.complaints.some((number) => concerns(about, number, note))),
    shares: weighed.elements,
    ...placed(about, weighed),
    breaks: breaksOf(about),
  };
}

function quiet(about: Case, nothing: boolean): Finding {
  const verdict = nothing
    ? 'Say what you saw: which switch, how often you pressed it, how often it missed.'
    : `Nothing wrong so far: ${listed([...new Set(about.evidence.presses.map((o) => o.number))])} answered every time. Say which switch misbehaves.`;
  return {
    standing: nothing ? 'empty' : 'well',
    verdict,
    suspects: [],
    rest: { share: 0, places: 0 },
    next: null,
    others: [],
    cleared: [],
    odd: [],
    notes: [],
    shares: new Map(),
    onSwitch: new Map(),
    onLine: new Map(),
    breaks: [],
  };
}

function suspectsOf({ space, field }: Case, weighed: Weighed): Suspect[] {
  const likeliest = new Map<string, { share: number; words: string }>();
  for (const mode of space.modes) {
    const share = weighed.modes.get(mode.id) ?? 0;
    if (share > (likeliest.get(mode.element)?.share ?? 0)) likeliest.set(mode.element, { share, words: mode.words });
  }
  return [...weighed.elements]
    .filter(([id, share]) => share >= shown && field.focus(id))
    .sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1))
    .slice(0, mostShown)
    .flatMap(([id, share]) => {
      const element = space.elements.get(id);
      return element
        ? [{ ...element, ...faultOf(element, likeliest.get(id)?.words ?? ''), share, how: likeliest.get(id)?.words ?? '' }]
        : [];
    });
}

/** The fault class follows from the way, where one element can fail in ways of different classes. */
function faultOf(element: Element, words: string): { fault: FaultClass } {
  if (element.id.startsWith('diode ')) {
    if (words === 'reversed') return { fault: 'diode-reversed' };
    if (words === 'shorted' || words === 'bypassed') return { fault: 'diode-bypassed' };
  }
  return { fault: element.fault };
}

function standingOf([top]: readonly Suspect[], odd: readonly Oddity[]): Standing {
  if (odd.length > 0) return 'odd';
  if (!top) return 'open';
  return top.share >= certain ? 'found' : top.share >= ahead ? 'ahead' : 'open';
}

const percent = (share: number) => `${Math.round(share * 100)} %`;

function verdictOf(standing: Standing, suspects: readonly Suspect[], places: number, canTest: boolean, odd: readonly Oddity[]): string {
  const [top] = suspects;
  if (standing === 'odd') return `What was seen fits no fault that this chart can have. ${odd[0]?.what ?? ''}`;
  if (!top) return 'Not enough to tell: nothing stands out.';
  if (standing === 'found') return `It is ${named(top)}, ${percent(top.share)}. Mend it, then prove it.`;
  if (standing === 'ahead')
    return `Most likely ${named(top)}, ${percent(top.share)}. ${canTest ? 'One more test before you mend.' : 'No test that I know tells more: mend it, then prove it.'}`;
  const rest = places + suspects.length;
  return `Not enough to tell yet: ${rest} places could be at fault. ${canTest ? 'Do the next test.' : 'No test that I know tells them apart.'}`;
}

/** Suspicion at the switch itself, and in its lines. */
function placed({ network }: Case, weighed: Weighed) {
  const onSwitch = new Map<string, number>();
  const onLine = new Map<string, number>();
  const add = (map: Map<string, number>, key: string, share: number) => map.set(key, Math.min(1, (map.get(key) ?? 0) + share));
  for (const [id, share] of weighed.elements) {
    const own = /^(contact|diode|insulation) (.+)$/.exec(id)?.[2] ?? /^tail \S+ (.+)$/.exec(id)?.[1];
    if (own) add(onSwitch, own, share);
    else for (const net of network.elements.get(id)?.lines ?? []) add(onLine, net, share);
  }
  return { onSwitch, onLine };
}

const concerns = (about: Case, number: string, note: string): boolean => {
  const circuit = about.network.circuits.find((c) => c.number === number);
  return (
    note.includes(number) ||
    (circuit?.nets.some((net) => note.toLowerCase().includes(net.replace('switch-', '').replace('.', ' '))) ?? false)
  );
};

/** Hard breaks only: each dead switch's path less everything on the path of one that answers. */
function breaksOf({ network, evidence }: Case): string[][] {
  const dead = evidence.presses.filter((o) => o.presses >= 3 && o.missed === o.presses).map((o) => o.number);
  const good = evidence.presses.filter((o) => o.missed === 0).map((o) => o.number);
  if (dead.length === 0) return [];
  const { conflicts } = pathConflicts(network.path, dead, good);
  return minimalHittingSets(
    conflicts.map((c) => c.elements),
    { atMost: 2, limit: 12 },
  );
}
