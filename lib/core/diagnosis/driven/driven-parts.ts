/** Collects elements and their faults, with the parts that every driven line has: joint, terminal, wire, splice. */
import { splitPin } from '../../chart/names';
import type { Header } from '../../chart/schema';
import type { Chart } from '../../chart/types';
import { housingName } from '../../chart/views';
import type { FaultClass } from '../classes';
import type { Element } from '../types';
import { faultOf } from '../verdict';
import type { LinePart } from './driven-lines';
import { splitOf } from './priors-driven';
import { actsNow, type Fault, type Harm, harm, type Way } from './scenes';

export type WeightOf = (kind: string) => number;
/** How much likelier a class of fault is than the table says, from the club's record. */
export type TimesOf = (fault: FaultClass) => number;
/** What the faults of a line do to those behind a part: cut them off, or starve them. */
export interface LineHarms<D extends string> {
  cut: D;
  weak: D | null;
}
/** Where an element lies on a drawing: at a device, by number, or in lines, by net. */
export type Where = { device: string } | { nets: readonly string[] };

export interface FaultList<D extends string> {
  faults: Fault<D>[];
  elements: Map<string, Element>;
  where: Map<string, Where>;
  /** Elements that can be behind a complaint. */
  focus: Set<string>;
  element(element: Element, focus: boolean, where: Where): void;
  fault(element: string, name: string, weight: number, ways: readonly Way<D>[], group?: string): void;
}

/** What of a harm concerns a list of names: nothing when none of them is touched. */
export const onlyOn = <D extends string>({ does, on }: Harm<D>, names: ReadonlySet<string>): Harm<D>[] => {
  const touched = on.filter((name) => names.has(name));
  return touched.length > 0 ? [harm(does, touched)] : [];
};

/** An empty list. Of each harm only what `concerns` gives is kept; a way of which nothing is left is left out. */
export function faultList<D extends string>(concerns: (harm: Harm<D>) => Harm<D>[], times: TimesOf = () => 1): FaultList<D> {
  const faults: Fault<D>[] = [];
  const elements = new Map<string, Element>();
  const where = new Map<string, Where>();
  const focus = new Set<string>();
  return {
    faults,
    elements,
    where,
    focus,
    element(element, inFocus, at) {
      if (!elements.has(element.id)) {
        elements.set(element.id, element);
        where.set(element.id, at);
      }
      if (inFocus) focus.add(element.id);
    },
    fault(element, name, weight, ways, group) {
      const about = elements.get(element);
      if (!about) throw new Error(`No element ${element}`);
      const odds = weight * times(faultOf(about, name));
      if (odds <= 0) return;
      for (const [i, { harms, share, words = name }] of ways.entries()) {
        const shown = harms.flatMap(concerns);
        if (share <= 0 || (harms.length > 0 && shown.length === 0)) continue;
        const id = `${element}: ${name}${i === 0 ? '' : `, ${i + 1}`}`;
        faults.push({ id, element, weight: odds * share, ...(group && { group }), key: id, harms: shown, words });
      }
    },
  };
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
  net: string;
  focus(serves: readonly string[]): boolean;
}

/** Faults of one part of a line: the joint and terminal of a tap, a run of wire, a splice. */
export function partFaults<D extends string>(list: FaultList<D>, part: LinePart, context: LineContext<D>, own = ''): void {
  const { chart, focus, net } = context;
  const inFocus = focus(part.serves);
  const where = { nets: [net] };
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
    list.element({ ...joint, fault: 'cracked-joint' }, inFocus, where);
    spread(list, joint.id, 'joint-power', part, context, group);
    const terminal = { id: `terminal ${part.pin}`, name: `Terminal ${plug}`, detail: `${termination}${side}`, place: plug };
    list.element({ ...terminal, fault: 'worn-contact' }, inFocus, where);
    spread(list, terminal.id, terminalKinds[termination], part, context, group, 'where the wire sits');
    spread(list, terminal.id, 'terminal-spring', part, context, group, 'at its spring');
    return;
  }
  if (part.is === 'inline') {
    const id = `inline ${part.to}`;
    const connector = headerOf(part.to);
    const displaced = chart.inline.get(connector)?.termination === 'insulation-displacement';
    list.element(
      {
        id,
        name: `Contact ${part.to}`,
        detail: `in the in-line connector behind ${seat(part.pin)}`,
        place: part.to,
        fault: 'worn-contact',
      },
      inFocus,
      where,
    );
    spread(list, id, displaced ? 'in-line-displacement' : 'in-line-crimps', part, context, connector, 'where a wire sits');
    spread(list, id, 'terminal-spring', part, context, connector, 'at its spring');
    return;
  }
  if (part.is === 'splice') {
    const id = `splice ${part.to}`;
    list.element(
      { id, name: `Splice ${part.to}`, detail: `behind ${seat(part.pin)}`, place: `splice ${part.to}`, fault: 'splice' },
      inFocus,
      where,
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
    where,
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
  spot = '',
): void {
  const split = splitOf(kind);
  const cutShare = part.parallel > 1 ? standIn : 1;
  const seen = harm(mark, [element]);
  const weak = harms.weak === null ? 0 : split.resistive;
  const acting = split.hard + (1 - split.hard - weak) * actsNow;
  const words = (how: string) => (spot ? `${how} ${spot}` : how);
  const ways: Way<D>[] = [
    { harms: [harm(harms.cut, part.serves), seen], share: acting * cutShare * part.sure, words: words('open') },
    ...(harms.weak === null
      ? []
      : [{ harms: [harm(harms.weak, part.serves), seen], share: weak * part.sure, words: words('high resistance') }]),
  ];
  const rest = 1 - ways.reduce((sum, way) => sum + way.share, 0);
  list.fault(element, words('bad'), priors(kind), [...ways, { harms: [seen], share: rest, words: words('now and then') }], group);
}
