/** Everything that can be at fault around matrix lamps: drivers, lines, and each lamp with its socket and diode. */
import { netTitle } from '../../chart/names';
import type { Chart } from '../../chart/types';
import { partsOf } from './driven-lines';
import { type FaultList, partFaults, spread, type WeightOf } from './driven-parts';
import type { LampHarm, LampSpot } from './lamp-table';
import { hard, harm } from './scenes';

export interface LampScope {
  chart: Chart;
  priors: WeightOf;
  spots: readonly LampSpot[]; // of the whole machine
  /** Lamps whose own parts are in the field. */
  lamps: readonly LampSpot[];
  lines: readonly { axis: Axis; line: number }[];
  complaints: ReadonlySet<string>;
  /** Lamps whose fault can make a complaint glow. */
  sneaks: ReadonlySet<string>;
}
export type Axis = 'column' | 'row';

export const lampNet = (chart: Chart, axis: Axis, line: number): string =>
  chart.design.nets.find((n) => n.kind === `lamp-${axis}` && n.number === line)?.id ?? `lamp-${axis}.${line}`;
export const onLine = (spots: readonly LampSpot[], axis: Axis, line: number): string[] =>
  spots.filter((s) => s[axis] === line).map((s) => s.number);
export const lampDriver = (chart: Chart, axis: Axis, line: number): string =>
  chart.nets.get(lampNet(chart, axis, line))?.part ?? `lamp ${axis} ${line}`;

export function lampFaults(list: FaultList<LampHarm>, scope: LampScope): { unplaced: string[] } {
  const unplaced = new Set<string>();
  for (const { axis, line } of scope.lines) {
    for (const number of lineFaults(list, scope, axis, line)) unplaced.add(number);
    for (const lower of [line - 1, line]) joinFault(list, scope, axis, lower);
  }
  for (const lamp of scope.lamps) lampOwnFaults(list, scope, lamp);
  const all = scope.spots.map((s) => s.number);
  list.element(
    { id: 'lamp supply', name: 'Lamp supply', detail: 'fuse, rectifier, connector', place: 'lamp supply', fault: 'supply' },
    scope.complaints.size > 0,
    { nets: [] },
  );
  list.fault('lamp supply', 'gives nothing', scope.priors('fuse') + scope.priors('rectifier'), hard(harm('supply-dead', all)));
  return { unplaced: [...unplaced] };
}

function lineFaults(
  list: FaultList<LampHarm>,
  { chart, priors, spots, complaints }: LampScope,
  axis: Axis,
  line: number,
): readonly string[] {
  const on = onLine(spots, axis, line);
  const net = lampNet(chart, axis, line);
  const title = netTitle(chart, net);
  const focus = (numbers: readonly string[]) => numbers.some((n) => complaints.has(n));
  const mine = focus(on);
  const driver = lampDriver(chart, axis, line);
  const column = axis === 'column';
  const where = { nets: [net] };
  const id = `lamp driver ${axis} ${line}`;
  list.element(
    { id, name: `Driver ${driver}`, detail: column ? `feeds ${title}` : `sinks ${title}`, place: driver, fault: 'transistor' },
    mine,
    where,
  );
  list.fault(id, 'dead', priors('lamp-driver-dead'), hard(harm(column ? 'column-dead' : 'row-dead', on)), driver);
  list.fault(id, 'stuck on', priors('lamp-driver-stuck'), hard(harm(column ? 'column-on' : 'row-on', on)), driver);
  const touch = (what: string, name: string, kind: string, does: LampHarm) => {
    list.element(
      { id: `${what} ${net}`, name: `${title} ${name}`, detail: 'pinched, bare or a whisker', place: net, fault: 'short' },
      mine,
      where,
    );
    list.fault(`${what} ${net}`, 'short', priors(kind), hard(harm(does, on)));
  };
  touch('ground', 'to ground', 'line-to-ground', column ? 'column-grounded' : 'row-grounded');
  if (!column) touch('supply', 'to the lamp supply', 'line-to-supply', 'row-supplied');
  const { parts, unplaced } = partsOf(chart, net, 'lamp', on);
  const context = { chart, priors, focus, net, harms: { cut: column ? 'column-cut' : 'row-cut', weak: 'weak' }, mark: 'mark' } as const;
  for (const part of parts) partFaults(list, part, context, title);
  return unplaced;
}

/** A line and the one after it touch. */
function joinFault(list: FaultList<LampHarm>, { chart, priors, spots, complaints }: LampScope, axis: Axis, lower: number) {
  const pair = [onLine(spots, axis, lower), onLine(spots, axis, lower + 1)];
  const id = `join ${lampNet(chart, axis, lower)}`;
  if (pair.some((on) => on.length === 0) || list.elements.has(id)) return;
  const on = pair.flat();
  const name = `${netTitle(chart, lampNet(chart, axis, lower))} to ${axis} ${lower + 1}`;
  const place = lampNet(chart, axis, lower);
  list.element(
    { id, name, detail: 'a whisker, a bridge or bare wires', place, fault: 'short' },
    on.some((n) => complaints.has(n)),
    { nets: [place, lampNet(chart, axis, lower + 1)] },
  );
  list.fault(id, 'short', priors('line-to-neighbour'), hard(harm(axis === 'column' ? 'columns-joined' : 'rows-joined', on)));
}

function lampOwnFaults(list: FaultList<LampHarm>, { priors, complaints, sneaks }: LampScope, { number, led }: LampSpot) {
  const own = [number];
  const here = { device: number };
  const mine = complaints.has(number);
  const part = { serves: own, sure: 1, parallel: 1 };
  const context = { priors, mark: 'mark', harms: { cut: 'own-cut', weak: 'weak' } } as const;
  list.element(
    { id: `bulb ${number}`, name: `Lamp ${number}`, detail: led ? 'LED, dead or turned round' : 'lamp', place: number, fault: 'lamp' },
    mine,
    here,
  );
  list.fault(`bulb ${number}`, 'open', priors('lamp'), hard(harm('bulb', own)));
  list.fault(`bulb ${number}`, 'shorted', priors('lamp-shorted'), hard(harm('bulb-shorted', own)));
  list.element(
    { id: `socket ${number}`, name: `Socket of lamp ${number}`, detail: 'tarnished or slack', place: number, fault: 'lamp' },
    mine,
    here,
  );
  spread(list, `socket ${number}`, 'lamp-socket', part, context);
  list.element(
    { id: `lug ${number}`, name: `Lug of lamp ${number}`, detail: 'wire broken at the lug', place: number, fault: 'lug-joint' },
    mine,
    here,
  );
  spread(list, `lug ${number}`, 'lamp-lug', part, context);
  list.element(
    { id: `diode ${number}`, name: `Diode of lamp ${number}`, detail: 'series diode', place: number, fault: 'diode-absent' },
    mine || sneaks.has(number),
    here,
  );
  spread(list, `diode ${number}`, 'lamp-diode-open', part, { ...context, harms: { cut: 'diode-open', weak: null } });
  list.fault(`diode ${number}`, 'shorted', priors('lamp-diode-shorted'), hard(harm('diode-shorted', own)));
  list.fault(`diode ${number}`, 'reversed', priors('lamp-diode-reversed'), hard(harm('diode-reversed', own)));
  list.element(
    { id: `cross ${number}`, name: `Column to row at lamp ${number}`, detail: 'lugs touch', place: number, fault: 'short' },
    mine || sneaks.has(number),
    here,
  );
  list.fault(`cross ${number}`, 'short', priors('line-to-line-at-lug'), hard(harm('crossed', own)));
}
