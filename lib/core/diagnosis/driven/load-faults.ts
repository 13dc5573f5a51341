/** Everything that can be at fault around driven loads, in path order from the supply to the driver. */
import { netTitle } from '../../chart/names';
import type { Load } from '../../chart/schema';
import type { Chart } from '../../chart/types';
import { partsOf } from './driven-lines';
import { type FaultList, type LineContext, partFaults, spread, type WeightOf } from './driven-parts';
import type { LoadHarm } from './load-table';
import { hard, harm, type Way } from './scenes';

/** The fuse a load hangs on; its supply line when the chart names none. */
export const fuseOf = (chart: Chart, load: Load): string => load.fuse ?? chart.nets.get(load.supply)?.fuse ?? load.supply;
export const matesOf = (chart: Chart, load: Load): Load[] =>
  chart.loads.filter((l) => l.supply === load.supply && fuseOf(chart, l) === fuseOf(chart, load));
export const hasDiode = (load: Load): boolean => (load.flyback ?? (load.kind === 'flasher' ? 'none' : 'at the coil')) !== 'none';
const diodeOnBoard = (load: Load): boolean => load.flyback === 'on the board';
export const driverName = (chart: Chart, load: Load): string => chart.nets.get(load.net)?.part ?? `driver of ${load.number}`;

/** Chance that the fuse is found blown, by fault (from memory). */
const blowing = { driver: 0.3, drive: 0.2, ground: 0.3, turns: 0.2, diode: 0.6, stroke: 0.3 };

export interface LoadScope {
  chart: Chart;
  priors: WeightOf;
  loads: readonly Load[]; // whose own parts are in the field
  complaints: ReadonlySet<string>;
  /** Fuses that a complaint hangs on. */
  fuses: ReadonlySet<string>;
}

export function loadFaults(list: FaultList<LoadHarm>, scope: LoadScope): { unplaced: string[] } {
  const { chart, loads } = scope;
  const unplaced = new Set<string>();
  for (const supply of new Set(loads.map((l) => l.supply))) for (const number of supplyFaults(list, scope, supply)) unplaced.add(number);
  for (const load of loads) {
    ownFaults(list, scope, load);
    driverFaults(list, scope, load);
  }
  for (const net of new Set(loads.map((l) => l.net))) {
    const on = chart.loads.filter((l) => l.net === net).map((l) => l.number);
    const context = { ...contextOf(scope, net), harms: { cut: 'return-cut', weak: 'supply-weak' } as const };
    for (const part of partsOf(chart, net, 'load', on).parts) partFaults(list, part, context, `return of ${on.join(', ')}`);
  }
  enableFaults(list, scope);
  return { unplaced: [...unplaced] };
}

function contextOf({ chart, priors, complaints }: LoadScope, net: string): LineContext<LoadHarm> {
  const focus = (serves: readonly string[]) => serves.some((n) => complaints.has(n));
  return { chart, priors, focus, net, harms: { cut: 'supply-cut', weak: 'supply-weak' }, mark: 'mark' };
}

function supplyFaults(list: FaultList<LoadHarm>, scope: LoadScope, supply: string): readonly string[] {
  const { chart, priors, complaints } = scope;
  const net = chart.nets.get(supply);
  const fed = chart.loads.filter((l) => l.supply === supply);
  const numbers = fed.map((l) => l.number);
  const title = netTitle(chart, supply);
  const inFocus = numbers.some((n) => complaints.has(n));
  const where = { nets: [supply] };
  const feed = {
    id: `feed ${supply}`,
    name: `${title} before its fuse`,
    detail: 'transformer, rectifier',
    place: supply,
    fault: 'supply',
  } as const;
  list.element(feed, inFocus, where);
  list.fault(feed.id, 'gives nothing', priors('rectifier'), hard(harm('feed-cut', numbers)));
  if (net?.interlock) {
    const id = `interlock ${supply}`;
    list.element({ id, name: `Interlock of ${title}`, detail: net.interlock, place: net.interlock, fault: 'supply' }, inFocus, where);
    list.fault(id, 'open', priors('interlock'), hard(harm('feed-cut', numbers)));
  }
  const tied = fed.filter(diodeOnBoard).map((l) => l.number);
  if (tied.length > 0) {
    const id = `tie-back ${supply}`;
    list.element(
      { id, name: `Tie-back of the diodes to ${title}`, detail: 'wire to the board', place: supply, fault: 'broken-wire' },
      inFocus,
      where,
    );
    list.fault(id, 'open', priors('tie-back'), hard(harm('flyback-open', tied)));
  }
  for (const fuse of new Set(fed.map((l) => fuseOf(chart, l)))) fuseFaults(list, scope, supply, fuse);
  const { parts, unplaced } = partsOf(chart, supply, 'load', numbers);
  for (const part of parts) partFaults(list, part, contextOf(scope, supply), title);
  return unplaced;
}

function fuseFaults(list: FaultList<LoadHarm>, { chart, priors, complaints, loads }: LoadScope, supply: string, fuse: string) {
  const on = chart.loads.filter((l) => l.supply === supply && fuseOf(chart, l) === fuse).map((l) => l.number);
  if (!loads.some((l) => on.includes(l.number))) return;
  const inFocus = on.some((n) => complaints.has(n));
  const where = { nets: [supply] };
  const name = fuse === supply ? `Fuse of ${netTitle(chart, supply)}` : `Fuse ${fuse}`;
  const holder = chart.nets.get(supply)?.fuseHolder;
  list.element({ id: `fuse ${fuse}`, name, detail: 'blown by itself', place: fuse, fault: 'fuse' }, inFocus, where);
  list.fault(`fuse ${fuse}`, 'blown', priors('fuse'), hard(harm('fuse-blown', on)));
  const id = `holder ${fuse}`;
  list.element(
    { id, name: `Holder of ${name.charAt(0).toLowerCase()}${name.slice(1)}`, detail: holder ?? 'clips', place: fuse, fault: 'fuse' },
    inFocus,
    where,
  );
  const context = { priors, mark: 'mark', harms: { cut: 'holder-cut', weak: 'supply-weak' } } as const;
  spread(list, id, 'fuse-holder', { serves: on, sure: 1, parallel: 1 }, context);
  const ground = `ground ${fuse}`;
  list.element(
    { id: ground, name: `${netTitle(chart, supply)} to ground`, detail: 'short behind the fuse', place: supply, fault: 'short' },
    inFocus,
    where,
  );
  list.fault(ground, 'short', priors('line-to-ground'), hard(harm('supply-grounded', on), harm('fuse-blown', on)));
}

/** Lugs, winding, diode, end-of-stroke contact and return wire of one load. */
function ownFaults(list: FaultList<LoadHarm>, scope: LoadScope, load: Load) {
  const { chart, priors } = scope;
  const { number, name } = load;
  const own = [number];
  const here = { device: number };
  const inFocus = suspect(scope, load);
  const mine = scope.complaints.has(number);
  const blow = blowOf(chart, load);
  const what = load.kind === 'coil' || load.kind === 'relay' ? 'winding' : load.kind;
  const lug = (id: string, title: string, cut: LoadHarm) => {
    list.element({ id: `${id} ${number}`, name: `${title} of ${number}`, detail: name, place: number, fault: 'lug-joint' }, mine, here);
    const context = { priors, mark: 'mark', harms: { cut, weak: null } } as const;
    spread(list, `${id} ${number}`, 'coil-lug', { serves: own, sure: 1, parallel: 1 }, context);
  };
  lug('supply lug', 'Supply lug', 'supply-cut');
  lug('winding lead', `Lead of the ${what} at its lug`, 'winding-open');
  lug('return lug', 'Return lug', 'return-cut');
  const winding = `winding ${number}`;
  list.element(
    { id: winding, name: `${capital(what)} of ${number}`, detail: name, place: number, fault: load.kind === 'flasher' ? 'lamp' : 'coil' },
    inFocus,
    here,
  );
  list.fault(winding, 'open', priors('coil-open'), hard(harm('winding-open', own)));
  if (load.kind === 'flasher') list.fault(winding, 'shorted', priors('lamp-shorted'), blow([harm('shorted', own)], blowing.diode));
  else list.fault(winding, 'shorted turns', priors('coil-turns'), blow([harm('turns', own)], blowing.turns));
  if (load.windings === 'double') {
    list.fault(winding, 'strong winding open', priors('power-winding'), hard(harm('power-open', own)));
    const id = `stroke ${number}`;
    list.element({ id, name: `End-of-stroke contact of ${number}`, detail: name, place: number, fault: 'switch-dirty' }, inFocus, here);
    list.fault(id, 'never closes', priors('stroke-never-closes'), hard(harm('power-open', own), harm('mark', [id])));
    list.fault(id, 'never opens', priors('stroke-never-opens'), blow([harm('never-opens', own), harm('mark', [id])], blowing.stroke));
  }
  if (hasDiode(load)) {
    const id = `diode ${number}`;
    const where = diodeOnBoard(load) ? 'on the board' : 'at the coil';
    list.element({ id, name: `Flyback diode of ${number}`, detail: where, place: number, fault: 'coil' }, inFocus, here);
    list.fault(id, 'open', priors('flyback-open'), hard(harm('flyback-open', own)));
    list.fault(id, 'shorted', priors('flyback-shorted'), blow([harm('flyback-shorted', own)], blowing.diode));
    list.fault(id, 'reversed', priors('flyback-reversed'), blow([harm('flyback-reversed', own)], blowing.diode));
  }
  const ground = `ground ${number}`;
  list.element(
    { id: ground, name: `Return wire of ${number} to ground`, detail: 'pinched or bare', place: number, fault: 'short' },
    inFocus,
    { nets: [load.net] },
  );
  list.fault(ground, 'short', priors('line-to-ground'), blow([harm('return-grounded', own)], blowing.ground));
}

function driverFaults(list: FaultList<LoadHarm>, scope: LoadScope, load: Load) {
  const { chart, priors } = scope;
  const own = [load.number];
  const part = driverName(chart, load);
  const blow = blowOf(chart, load);
  const id = `driver ${load.number}`;
  list.element(
    {
      id,
      name: `Driver ${part === `driver of ${load.number}` ? `of ${load.number}` : part}`,
      detail: `drives ${load.number} ${load.name}`,
      place: part,
      fault: 'transistor',
    },
    suspect(scope, load),
    { nets: [load.net] },
  );
  list.fault(id, 'shorted', priors('driver-shorted'), blow([harm('driver-on', own)], blowing.driver), part);
  list.fault(id, 'open', priors('driver-open'), hard(harm('driver-cut', own)), part);
  const shared = load.predriver ? chart.loads.filter((l) => l.predriver === load.predriver) : [load];
  const pre = load.predriver ? `predriver ${load.predriver}` : `predriver of ${load.number}`;
  const focus = shared.some((l) => suspect(scope, l));
  const known = list.elements.has(pre);
  const name = load.predriver ? `Pre-driver ${load.predriver}` : `Pre-driver or logic of ${load.number}`;
  list.element({ id: pre, name, detail: `before ${part}`, place: load.predriver ?? part, fault: 'transistor' }, focus, {
    nets: shared.map((l) => l.net),
  });
  const numbers = shared.map((l) => l.number);
  if (!known) list.fault(pre, 'dead', priors('predriver-dead'), hard(harm('drive-cut', numbers)));
  list.fault(pre, `holds ${load.number} on`, priors('predriver-stuck'), blow([harm('drive-on', own)], blowing.drive));
}

function enableFaults(list: FaultList<LoadHarm>, { chart, priors, complaints }: LoadScope) {
  const numbers = chart.loads.map((l) => l.number);
  const element = {
    id: 'enable',
    name: 'Enable of the drivers',
    detail: 'logic that lets loads fire at all',
    place: 'driver board',
    fault: 'other',
  } as const;
  list.element(element, complaints.size > 0, { nets: [] });
  list.fault('enable', 'off', priors('enable'), hard(harm('drive-cut', numbers)));
}

/** It is complained of, or hangs on the same fuse and can blow it. */
const suspect = ({ chart, complaints, fuses }: LoadScope, load: Load): boolean =>
  complaints.has(load.number) || fuses.has(fuseOf(chart, load));

/** With some chance the fuse is found blown as well. */
const blowOf =
  (chart: Chart, load: Load) =>
  (harms: Way<LoadHarm>['harms'], chance: number): Way<LoadHarm>[] => {
    const on = matesOf(chart, load).map((l) => l.number);
    const draws = harm('draws' as const, [load.number]);
    return [
      { harms, share: 1 - chance },
      { harms: [...harms, draws, harm('fuse-blown', on)], share: chance },
    ];
  };

const capital = (word: string) => word.charAt(0).toUpperCase() + word.slice(1);
