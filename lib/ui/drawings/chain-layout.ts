/** Where the parts of a chain stand on the sheet: across the page where there is room, down it on a phone. Pixels. */
import type { ChainNode, ChainPart, ChainPlan, ChainSplice, ChainSwitch } from './chain-plan';

interface Spot {
  x: number;
  y: number;
}
export interface LaidSwitch extends Spot {
  node: ChainSwitch;
  room: number; // width for its words
  /** Middle of the wire that leads to it, for its share. */
  run: Spot;
}
export interface Layout {
  width: number;
  height: number;
  boxes: (Spot & { part: ChainPart })[]; // upper left corner
  heads: (Spot & { words: string })[]; // where a further connector begins, down the page
  links: string[]; // paths of thin lines on the board
  wires: string[]; // paths in the colour of the line
  guesses: string[]; // the same, where the chart does not say how it runs
  splices: (Spot & { node: ChainSplice })[]; // centre
  switches: LaidSwitch[];
}
const empty = (width: number): Layout => ({
  width,
  height: 0,
  boxes: [],
  heads: [],
  links: [],
  wires: [],
  guesses: [],
  splices: [],
  switches: [],
});

/** A run of wire with what hangs on it, a splice going on with its first branch; the others leave it. */
interface Lane {
  items: ChainNode[];
  leaving: { splice: ChainSplice; nodes: ChainNode[] }[];
}
function laneOf(nodes: readonly ChainNode[]): Lane {
  const lane: Lane = { items: [], leaving: [] };
  for (const node of nodes) {
    lane.items.push(node);
    if (node.is !== 'splice') continue;
    const [first = [], ...others] = node.branches;
    const on = laneOf(first);
    lane.items.push(...on.items);
    lane.leaving.push(...others.map((branch) => ({ splice: node, nodes: branch })), ...on.leaving);
  }
  return lane;
}

const countOf = (nodes: readonly ChainNode[]): number =>
  nodes.reduce((sum, node) => sum + (node.is === 'switch' ? 1 : node.branches.reduce((n, branch) => n + countOf(branch), 0)), 0);

export const wide = { width: 930, box: 78, boxHeight: 44, lane: 188 };
const leftmost = 16;
const closest = 80; // between two switches
const widest = 128;
const toSplice = 72;
const toFirst = 44;

/** Across the page: the board at the left, one lane a branch. */
export function wideLayout(plan: ChainPlan): Layout {
  const out = empty(wide.width);
  let free = 84; // next lane
  const pitch = (lane: Lane, x: number) => {
    const splices = lane.items.filter((n) => n.is === 'splice').length;
    const room = wide.width - x - toFirst - splices * (toSplice + toFirst);
    return room / Math.max(1, lane.items.length - splices);
  };
  /** `from` is where the wire comes from; `y` the lane that it was given. */
  const lay = (nodes: readonly ChainNode[], from: Spot, y: number, guess: boolean) => {
    const lane = laneOf(nodes);
    const paths = guess ? out.guesses : out.wires;
    let at = y;
    let x = from.x;
    let path = y === from.y ? `M${from.x} ${from.y}` : `M${from.x} ${from.y}V${y}`;
    if (pitch(lane, x) < closest) {
      const turn = y === from.y ? y + 66 : y - 62;
      at = y === from.y ? y + 130 : y;
      path = `M${from.x} ${from.y}${y === from.y ? `H${from.x + 28}` : ''}V${turn}H${leftmost}V${at}`;
      x = leftmost;
    }
    const step = Math.min(widest, pitch(lane, x));
    free = Math.max(free, at + wide.lane);
    const spots = new Map<ChainNode, number>();
    let first = true;
    for (const node of lane.items) {
      const before = x;
      x += node.is === 'splice' ? toSplice : first ? toFirst : step;
      first = node.is === 'splice';
      spots.set(node, x);
      const run = { x: (before + x) / 2, y: at };
      if (node.is === 'splice') out.splices.push({ node, x, y: at });
      else out.switches.push({ node, x, y: at, room: step - 20, run });
    }
    paths.push(`${path}H${x}`);
    for (const { splice, nodes: branch } of lane.leaving) lay(branch, { x: spots.get(splice) ?? x, y: at }, free, guess);
  };

  const boxes = (parts: readonly ChainPart[], x: number, y: number): number => {
    let end = x;
    for (const [k, part] of parts.entries()) {
      if (k > 0) out.links.push(`M${end} ${y}h14`);
      const left = k > 0 ? end + 14 : end;
      out.boxes.push({ part, x: left, y: y - wide.boxHeight / 2 });
      end = left + wide.box;
    }
    return end;
  };
  const top = free;
  const root = boxes(plan.root, 1, top);
  // The longest lane last: it may turn back under the board, and no link must cross it.
  const taps = plan.taps.toSorted((a, b) => countOf(a.nodes) - countOf(b.nodes));
  for (const [k, tap] of taps.entries()) {
    const y = k === 0 ? top : free + 20;
    out.links.push(k === 0 ? `M${root} ${y}h14` : `M${root + 7} ${top}V${y}h7`);
    const end = boxes(tap.parts, root + 14, y);
    if (tap.nodes.length > 0) lay(tap.nodes, { x: end, y }, y, false);
    else free = Math.max(free, y + 90);
  }
  if (plan.loose.length > 0) {
    const y = free === top ? top : free;
    const [last] = out.boxes.slice(-1);
    const from =
      last && plan.taps.length === 1 && out.switches.length === 0
        ? { x: last.x + wide.box, y: last.y + wide.boxHeight / 2 }
        : { x: root, y };
    lay(plan.loose, from, from.y === top ? top : y, true);
  }
  out.height = free - wide.lane + 158;
  return out;
}

export const narrow = { width: 350, rail: 40, box: 52, boxHeight: 48, row: 70 };
const between = 16; // two rails side by side

/** Down the page: the board at the top, a rail a branch. */
export function narrowLayout(plan: ChainPlan): Layout {
  const out = empty(narrow.width);
  let y = 6;
  const boxes = (parts: readonly ChainPart[], linked: boolean) => {
    for (const [k, part] of parts.entries()) {
      if (k > 0 || linked) {
        out.links.push(`M${narrow.rail} ${y}v12`);
        y += 12;
      }
      out.boxes.push({ part, x: narrow.rail - narrow.box / 2, y });
      y += narrow.boxHeight;
    }
  };
  /** Returns how far down the rail goes. */
  const lay = (nodes: readonly ChainNode[], rail: number): number => {
    let end = y;
    for (const node of nodes) {
      if (node.is === 'splice') {
        const at = y + 32;
        y = at + 12;
        out.splices.push({ node, x: rail, y: at });
        for (const [k, branch] of node.branches.entries()) {
          const own = rail + between * (node.branches.length - 1 - k);
          const last = lay(branch, own);
          if (own === rail) end = Math.max(end, last);
          else out.wires.push(`M${rail} ${at}H${own}V${last}`);
        }
        end = Math.max(end, at);
      } else {
        const at = y + 36;
        out.switches.push({ node, x: rail, y: at, room: 170, run: { x: rail, y: at - 20 } });
        y += narrow.row;
        end = at;
      }
    }
    return end;
  };
  boxes(plan.root, false);
  for (const [k, tap] of plan.taps.entries()) {
    if (k > 0) {
      y += 30;
      out.heads.push({ x: narrow.rail - narrow.box / 2, y, words: `also from the board, over ${tap.pin}` });
      y += 12;
    }
    boxes(tap.parts, k === 0);
    if (tap.nodes.length === 0) continue;
    const from = y;
    out.wires.push(`M${narrow.rail} ${from}V${lay(tap.nodes, narrow.rail)}`);
  }
  if (plan.loose.length > 0) {
    const from = y;
    out.guesses.push(`M${narrow.rail} ${from}V${lay(plan.loose, narrow.rail)}`);
  }
  out.height = y + 6;
  return out;
}
