/** The fault finder: from what was seen at switches to the likely faults and the next thing to touch. */
import type { Chart } from '../../chart/types';
import { adviceFrom, type Power } from '../advice';
import { pathConflicts } from '../conflicts';
import { minimalHittingSets } from '../hitting-sets';
import { reasonOf } from '../reason';
import { withTriples } from '../triples';
import type { Mode } from '../types';
import { type Finding, judged, quietFinding } from '../verdict';
import { type Weighed, weigh } from '../weigh';
import { listed } from '../words';
import { type Case, caseOf, type Seen } from './case';
import type { Weighable } from './chances';
import { clearedBy } from './cleared';
import { oddities } from './odd';
import type { FixCounts } from './priors';

/** What the notebook's club has proved on this board design goes in as `counts`; `power` is the state that the machine is in now. */
export function findFault(chart: Chart, seen: Seen, counts: FixCounts = {}, power: Power = 'on'): Finding {
  const about = caseOf(chart, seen, counts);
  const nothing = about.evidence.presses.length + about.evidence.rest.length + about.evidence.hold.length === 0;
  if (nothing || about.complaints.length === 0) return quiet(about, nothing);
  const { space, field, probes } = about;
  const pairs = weigh(field, probes);
  const weighed = seen.threes ? withTriples(field, pairs, fewLoose) : pairs;
  const cleared = clearedBy(about);
  return {
    ...judged({
      weighed,
      modes: space.modes,
      elements: space.elements,
      focus: field.focus,
      odd: oddities(about, weighed),
      advice: () =>
        adviceFrom(probes, weighed.gains, power, (test, gain) => reasonOf(cleared[0] ?? '', space.elements, weighed, test, gain)),
    }),
    cleared,
    notes: about.network.notes.filter((note) => about.complaints.some((number) => concerns(about, number, note))),
    ...placed(about, weighed),
    breaks: breaksOf(about),
  };
}

/** The chance of presses is known for two faults that come and go, not for three. */
const fewLoose = (modes: readonly Mode[]): boolean =>
  (modes as readonly Weighable[]).filter((mode) => mode.behaviour !== 'hard').length <= 2;

function quiet({ evidence }: Case, nothing: boolean): Finding {
  if (nothing) return quietFinding('empty', 'Say what you saw: which switch, how often you pressed it, how often it missed.');
  const answered = listed([...new Set(evidence.presses.map((o) => o.number))]);
  return quietFinding('well', `Nothing wrong so far: ${answered} answered every time. Say which switch misbehaves.`);
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
