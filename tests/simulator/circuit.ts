/** A small circuit cut out of a netlist: only what the question needs, with dead ends and nodes in series taken out exactly. */
import { made, type Network } from './network';
import { leakSiemens, ohms } from './values';
import { ground, supply } from './wiring';

/** A part of the circuit that shares no node with another, ready to solve. Fixed voltages are in `current`. */
export interface Component {
  size: number;
  /** Symmetric conductance matrix, row by row, siemens. */
  conductance: Float64Array;
  /** Current into each node, amps. */
  current: Float64Array;
  /** Anode and cathode by turns, by node of the component. */
  diodes: number[];
}
export interface Circuit {
  components: Component[];
  /** Component and place in it of a node that was kept. */
  at(node: number): { component: number; index: number } | undefined;
}
export interface Cut {
  /** Lines whose elements are needed, by index. */
  lines: ReadonlySet<number>;
  /** Contacts that are closed, by index. */
  closed: readonly number[];
  /** Contacts whose diode is needed though they are open. */
  diodesOf?: readonly number[];
  /** False: every connector is off its header. */
  plugged: boolean;
  /** Nodes whose voltage is asked for or that a source feeds. */
  keep: readonly number[];
  links?: readonly { a: number; b: number; ohms: number }[];
  diodes?: readonly { anode: number; cathode: number }[];
  supplyVolts: number;
}

const bypassOhms = 0.02;

/** Cuts the circuit out. */
export function cutOut(net: Network, cut: Cut): Circuit {
  const w = net.wiring;
  const local = new Int32Array(w.nodes).fill(-1);
  const global: number[] = [];
  const near: number[][] = []; // neighbours; ground and supply as -1 and -2
  const with_: number[][] = []; // conductances to them
  const kept: boolean[] = [];
  const fixed = (node: number) => node === ground || node === supply;
  const of = (node: number): number => {
    if (fixed(node)) return node === ground ? -1 : -2;
    let i = local[node]!;
    if (i < 0) {
      i = global.push(node) - 1;
      local[node] = i;
      near.push([]);
      with_.push([]);
      kept.push(false);
    }
    return i;
  };
  const half = (from: number, to: number, g: number) => {
    const place = near[from]!.indexOf(to);
    if (place >= 0) with_[from]![place]! += g;
    else {
      near[from]!.push(to);
      with_[from]!.push(g);
    }
  };
  const resistor = (i: number, j: number, g: number) => {
    if (i === j) return;
    if (i >= 0) half(i, j, g);
    if (j >= 0) half(j, i, g);
  };
  const diodes: number[] = [];
  const diode = (anode: number, cathode: number) => {
    diodes.push(of(anode), of(cathode));
    for (const end of diodes.slice(-2)) if (end >= 0) kept[end] = true;
  };

  const needed = new Set([...cut.closed, ...(cut.diodesOf ?? []), ...net.middles]);
  const met = new Set(cut.keep);
  for (const x of [...net.extras, ...(cut.links ?? [])]) met.add(x.a).add(x.b);
  for (const d of cut.diodes ?? []) met.add(d.anode).add(d.cathode);
  for (const index of cut.lines) {
    const line = w.lines[index]!;
    for (let e = line.first; e < line.end; e++) {
      const value = net.ohms[e]!;
      if (value === Number.POSITIVE_INFINITY || (!cut.plugged && w.springs.has(e))) continue;
      const tail = w.tails[e]!; // a lug that nothing meets is a dead end
      if (tail >= 0 && !needed.has(tail) && !met.has(w.contacts[tail]!.columnLug) && !met.has(w.contacts[tail]!.rowLug)) continue;
      resistor(of(w.a[e]!), of(net.b[e]!), 1 / value);
    }
  }
  for (const x of net.extras) if (cut.plugged || !x.mated) resistor(of(x.a), of(x.b), 1 / x.ohms);
  for (const x of cut.links ?? []) resistor(of(x.a), of(x.b), 1 / x.ohms);
  for (const i of cut.closed) {
    const c = w.contacts[i]!;
    resistor(of(c.ends[0]), of(c.ends[1]), 1 / (ohms.contact + (net.switches.get(i) ?? made).addedOhms));
  }
  for (const i of needed) {
    const c = w.contacts[i]!;
    if (c.kind === 'direct') continue;
    const state = (net.switches.get(i) ?? made).diode;
    if (state === 'good') diode(c.anode, c.cathode);
    else if (state === 'reversed') diode(c.cathode, c.anode);
    else if (state === 'bypassed') resistor(of(c.anode), of(c.cathode), 1 / bypassOhms);
  }
  for (const d of cut.diodes ?? []) diode(d.anode, d.cathode);
  for (const node of cut.keep) if (!fixed(node)) kept[of(node)] = true;

  eliminate(near, with_, kept, resistor);
  return compose(global, local, near, with_, kept, diodes, cut.supplyVolts);
}

/** Star to mesh for every node of three neighbours or fewer that nobody asks for; exact for resistors. */
function eliminate(near: number[][], with_: number[][], kept: boolean[], resistor: (i: number, j: number, g: number) => void): void {
  const queue = near.map((_, i) => i);
  for (let x = queue.pop(); x !== undefined; x = queue.pop()) {
    const around = near[x]!;
    if (kept[x] || around.length > 3 || around.length === 0) continue;
    const g = with_[x]!;
    const total = g.reduce((sum, one) => sum + one, 0);
    near[x] = [];
    with_[x] = [];
    for (const p of around) {
      if (p < 0) continue;
      const place = near[p]!.indexOf(x);
      near[p]!.splice(place, 1);
      with_[p]!.splice(place, 1);
    }
    for (let i = 0; i < around.length; i++)
      for (let j = i + 1; j < around.length; j++)
        if (around[i]! >= 0 || around[j]! >= 0) resistor(around[i]!, around[j]!, (g[i]! * g[j]!) / total);
    for (const p of around) if (p >= 0 && !kept[p]) queue.push(p);
  }
}

function compose(
  global: readonly number[],
  local: Int32Array,
  near: readonly (readonly number[])[],
  with_: readonly (readonly number[])[],
  kept: readonly boolean[],
  diodes: readonly number[],
  supplyVolts: number,
): Circuit {
  const component = new Int32Array(global.length).fill(-1);
  const index = new Int32Array(global.length);
  const beside: number[][] = global.map(() => []);
  for (let d = 0; d < diodes.length; d += 2) {
    const [p, q] = [diodes[d]!, diodes[d + 1]!];
    if (p >= 0 && q >= 0) {
      beside[p]!.push(q);
      beside[q]!.push(p);
    }
  }
  const members: number[][] = [];
  for (let s = 0; s < global.length; s++) {
    if (component[s]! >= 0 || (!kept[s] && near[s]!.length === 0)) continue;
    const mine: number[] = [];
    const stack = [s];
    component[s] = members.length;
    for (let x = stack.pop(); x !== undefined; x = stack.pop()) {
      index[x] = mine.push(x) - 1;
      for (const list of [near[x]!, beside[x]!])
        for (const y of list)
          if (y >= 0 && component[y]! < 0) {
            component[y] = members.length;
            stack.push(y);
          }
    }
    members.push(mine);
  }
  const components = members.map((mine): Component => {
    const size = mine.length;
    const conductance = new Float64Array(size * size);
    const current = new Float64Array(size);
    for (const x of mine) {
      const i = index[x]!;
      conductance[i * size + i]! += leakSiemens;
      for (const [k, y] of near[x]!.entries()) {
        const g = with_[x]![k]!;
        conductance[i * size + i]! += g;
        if (y >= 0) conductance[i * size + index[y]!]! -= g;
        else if (y === -2) current[i]! += g * supplyVolts;
      }
    }
    return { size, conductance, current, diodes: [] };
  });
  for (let d = 0; d < diodes.length; d += 2) {
    const [p, q] = [diodes[d]!, diodes[d + 1]!];
    const home = components[component[p >= 0 ? p : q] ?? -1];
    if (home) home.diodes.push(p >= 0 ? index[p]! : p, q >= 0 ? index[q]! : q);
  }
  return {
    components,
    at: (node) => {
      const i = local[node] ?? -1;
      return i >= 0 && component[i]! >= 0 ? { component: component[i]!, index: index[i]! } : undefined;
    },
  };
}
