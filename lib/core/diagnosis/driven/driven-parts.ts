/** Collects elements and their faults, with the parts that every driven line has: joint, terminal, wire, splice. */
import { splitPin } from '../../chart/names';
import type { Header } from '../../chart/schema';
import type { Chart } from '../../chart/types';
import { housingName } from '../../chart/views';
import type { Element } from '../types';
import type { LinePart } from './driven-lines';
import { splitOf } from './priors-driven';
import { actsNow, type Fault, type Harm, harm, keyOf, type Way } from './scenes';

export type WeightOf = (kind: string) => number;
/** What the faults of a line do to those behind a part: cut them off, or starve them. */
export interface LineHarms<D extends string> {
  cut: D;
  weak: D | null;
}

export interface FaultList<D extends string> {
  faults: Fault<D>[];
  elements: Map<string, Element>;
  /** Elements that can be behind a complaint. */
  focus: Set<string>;
  element(element: Element, focus: boolean): void;
  fault(element: string, name: string, weight: number, ways: readonly Way<D>[], group?: string): void;
}

/** What of a harm concerns a list of names: nothing when none of them is touched. */
export const onlyOn = <D extends string>({ does, on }: Harm<D>, names: ReadonlySet<string>): Harm<D>[] => {
  const touched = on.filter((name) => names.has(name));
  return touched.length > 0 ? [harm(does, touched)] : [];
};

/**
 * An empty list. Of each harm only what `concerns` gives is kept, and a fault that then shows nowhere is left out: no look and no test
 * would ever speak of it. A fault whose harms are all of the `common` sort is split into its ways, each with its share of the weight: the
 * sums are the same, and the ways of different elements merge.
 */
export function faultList<D extends string>(concerns: (harm: Harm<D>) => Harm<D>[], common: (harm: Harm<D>) => boolean): FaultList<D> {
  const faults: Fault<D>[] = [];
  const elements = new Map<string, Element>();
  const focus = new Set<string>();
  const push = (element: string, name: string, weight: number, ways: readonly Way<D>[], group?: string) =>
    faults.push({ id: `${element}: ${name}`, element, weight, ...(group && { group }), key: keyOf(ways), ways });
  return {
    faults,
    elements,
    focus,
    element(element, inFocus) {
      if (!elements.has(element.id)) elements.set(element.id, element);
      if (inFocus) focus.add(element.id);
    },
    fault(element, name, weight, ways, group) {
      const seen = merged(ways.map((way) => ({ ...way, harms: way.harms.flatMap(concerns) })));
      const shown = seen.filter((way) => way.harms.length > 0);
      if (weight <= 0 || shown.length === 0) return;
      if (!shown.every((way) => way.harms.every(common))) push(element, name, weight, seen, group);
      else
        for (const [i, way] of shown.entries())
          push(element, i === 0 ? name : `${name}, ${i + 1}`, weight * way.share, [{ ...way, share: 1 }], group);
    },
  };
}

/** Ways that do the same, as one. */
function merged<D extends string>(ways: readonly Way<D>[]): Way<D>[] {
  const byHarms = new Map<string, Way<D>>();
  for (const way of ways) {
    if (way.share <= 0) continue;
    const key = keyOf([{ ...way, share: 1 }]);
    byHarms.set(key, { ...way, share: way.share + (byHarms.get(key)?.share ?? 0) });
  }
  return [...byHarms.values()];
}

/** The housing position behind a header position: `A3J4-7` → `A3P4-7`. */
export const seat = (pin: string): string => housingName(pin);
/** "A3P4 at position 7" */
export function seatWords(pin: string): string {
  const parts = splitPin(pin);
  return parts ? `${housingName(parts.header)} at position ${parts.position}` : pin;
}
const headerOf = (pin: string): string => splitPin(pin)?.header ?? pin;

const terminalKinds: Record<Header['termination'], string> = {
  'insulation-displacement': 'terminal-displacement',
  crimp: 'terminal-crimp',
  soldered: 'terminal-soldered',
};
const standIn = 0.2; // how much rarer a line is cut when pins side by side carry it (from memory)

export interface LineContext<D extends string> {
  chart: Chart;
  priors: WeightOf;
  harms: LineHarms<D>;
  mark: D; // what an inspection of an element finds
  focus(serves: readonly string[]): boolean;
}

/** Faults of one part of a line: the joint and terminal of a tap, a run of wire, a splice. */
export function partFaults<D extends string>(list: FaultList<D>, part: LinePart, context: LineContext<D>, own = ''): void {
  const { chart, focus } = context;
  const inFocus = focus(part.serves);
  if (part.is === 'tap') {
    const header = chart.headers.get(headerOf(part.pin));
    const termination = header?.termination ?? 'crimp';
    const plug = seat(part.pin);
    const group = headerOf(part.pin);
    const side = part.parallel > 1 ? `, one of ${part.parallel} side by side` : '';
    const joint = {
      id: `joint ${part.pin}`,
      name: `Header joint ${part.pin}`,
      detail: `solder joint under the pin${side}`,
      place: part.pin,
    };
    list.element({ ...joint, fault: 'cracked-joint' }, inFocus);
    spread(list, joint.id, 'joint-power', part, context, group);
    const terminal = { id: `terminal ${part.pin}`, name: `Terminal ${plug}`, detail: `${termination}${side}`, place: plug };
    list.element({ ...terminal, fault: 'worn-contact' }, inFocus);
    spread(list, terminal.id, terminalKinds[termination], part, context, group, 'wire');
    spread(list, terminal.id, 'terminal-spring', part, context, group, 'spring');
    return;
  }
  if (part.is === 'splice') {
    const id = `splice ${part.to}`;
    list.element(
      { id, name: `Splice ${part.to}`, detail: `behind ${seat(part.pin)}`, place: `splice ${part.to}`, fault: 'splice' },
      inFocus,
    );
    spread(list, id, 'splice', part, context);
    return;
  }
  const from = part.from === '' ? seat(part.pin) : part.from;
  const line = own ? `${own}: ` : '';
  const name = `Wire from ${from} to ${part.to}`;
  list.element(
    { id: part.id, name, detail: `${line}broken or pinched, or loose in the lug`, place: part.to, fault: 'broken-wire' },
    inFocus,
  );
  spread(list, part.id, 'wire', part, context);
}

/**
 * One kind of fault of one element: open for good or open now, high resistance, or doing nothing just now. With less than certainty it
 * serves them at all; it can be seen in any case.
 */
export function spread<D extends string>(
  list: FaultList<D>,
  element: string,
  kind: string,
  part: Pick<LinePart, 'serves' | 'sure' | 'parallel'>,
  { harms, mark, priors }: Pick<LineContext<D>, 'harms' | 'mark' | 'priors'>,
  group?: string,
  label = 'bad',
): void {
  const split = splitOf(kind);
  const cutShare = part.parallel > 1 ? standIn : 1;
  const seen = harm(mark, [element]);
  const weak = harms.weak === null ? 0 : split.resistive;
  const acting = split.hard + (1 - split.hard - weak) * actsNow;
  const ways: Way<D>[] = [
    { harms: [harm(harms.cut, part.serves), seen], share: acting * cutShare * part.sure },
    ...(harms.weak === null ? [] : [{ harms: [harm(harms.weak, part.serves), seen], share: weak * part.sure }]),
  ];
  const rest = 1 - ways.reduce((sum, way) => sum + way.share, 0);
  list.fault(element, label, priors(kind), [...ways, { harms: [seen], share: rest }], group);
}
