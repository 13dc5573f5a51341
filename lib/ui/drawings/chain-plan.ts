/** What the chain figure draws, taken from a chart: one line from the board to its switches, with the suspicion that lies in each part. */
import { netTitle } from '@/lib/core/chart/names';
import type { Step } from '@/lib/core/chart/schema';
import type { Chart } from '@/lib/core/chart/types';
import { housingName } from '@/lib/core/chart/views';
import { leastInk } from './ink';
import type { SeenAs } from './seen-mark';

/** What is known of the parts and switches of a chart. Shares by the engine's element ids. */
export interface ChainKnown {
  shares: ReadonlyMap<string, number>;
  onSwitch: ReadonlyMap<string, number>; // by number
  seen: ReadonlyMap<string, { as: SeenAs; words: string }>; // by number
}
export interface ChainPart {
  name: string;
  place: string;
  share: number;
}
export interface ChainSwitch {
  is: 'switch';
  number: string;
  name: string;
  as: SeenAs;
  words: string; // what was seen
  own: number; // at the switch itself
  run: number; // in the wire that leads to it
  other: { title: string; colour: string } | null; // its other line; null: to ground
}
/** A joint of the harness from which others go on: a splice, or a position of an in-line connector with its one way on. */
export interface ChainSplice {
  is: 'splice';
  what: 'Splice' | 'In line';
  name: string;
  share: number;
  branches: ChainNode[][];
}
export type ChainNode = ChainSwitch | ChainSplice;
export interface ChainTap {
  pin: string;
  parts: ChainPart[]; // from the board outwards
  nodes: ChainNode[];
}
export interface ChainPlan {
  title: string; // "Row 6"
  colour: string;
  ends: string; // "its input"
  root: ChainPart[];
  taps: ChainTap[];
  loose: ChainSwitch[]; // the chart does not say where they hang
}

export function chainPlan(chart: Chart, net: string, { shares, onSwitch, seen }: ChainKnown): ChainPlan {
  const line = chart.nets.get(net);
  const share = (id: string) => shares.get(id) ?? 0;
  const part = (name: string, place: string, id: string): ChainPart => ({ name, place, share: share(id) });
  /** Shared things and shorts are drawn only under suspicion; the stages of a line always. */
  const suspected = (name: string, place: string, id: string): ChainPart[] => (share(id) >= leastInk ? [part(name, place, id)] : []);
  const isColumn = net.startsWith('switch-column');
  const numbers = new Set(chart.circuits.filter((c) => c.nets.includes(net)).map((c) => c.number));
  const placed = new Set<string>();

  const switchAt = (number: string, pin: string): ChainSwitch => {
    const circuit = chart.circuit.get(number);
    const other = circuit?.nets.find((n) => n !== net);
    const known = seen.get(number);
    placed.add(number);
    return {
      is: 'switch',
      number,
      name: circuit?.name ?? '',
      as: known?.as ?? 'untried',
      words: known?.words ?? 'not tried',
      own: onSwitch.get(number) ?? 0,
      run: share(`run ${net} ${pin} ${number}`),
      other: other ? { title: short(netTitle(chart, other)), colour: chart.nets.get(other)?.colour ?? '' } : null,
    };
  };
  const nodesOf = (steps: readonly Step[], pin: string): ChainNode[] =>
    steps.flatMap((step, k): ChainNode[] => {
      if (steps.slice(0, k).some((before) => 'inline' in before)) return []; // drawn as what is beyond it
      if ('inline' in step) {
        const on = nodesOf(steps.slice(k + 1), pin);
        const name = step.inline;
        return on.length > 0
          ? [
              {
                is: 'splice',
                what: 'In line',
                name,
                share: share(`inline ${name}`) + share(`plug ${name.replace(/-\d+$/, '')}`),
                branches: [on],
              },
            ]
          : [];
      }
      if ('splice' in step)
        return [
          {
            is: 'splice',
            what: 'Splice',
            name: step.splice,
            share: share(`splice ${net} ${step.splice}`),
            branches: step.branches.map((branch) => nodesOf(branch, pin)).filter((branch) => branch.length > 0),
          },
        ];
      return 'switch' in step && numbers.has(step.switch) ? [switchAt(step.switch, pin)] : [];
    });

  const taps = (chart.taps.get(net) ?? []).map(({ pin, header }): ChainTap => {
    const parts = [
      part('Joint', pin, `joint ${pin}`),
      ...suspected('Plug', housingName(header), `plug ${header}`),
      part('Contact', housingName(pin), `terminal ${pin}`),
    ];
    return { pin, parts, nodes: chart.machine.chains.filter((c) => c.tap === pin).flatMap((c) => nodesOf(c.steps, pin)) };
  });
  const [only] = taps;
  const loose = [...numbers].filter((n) => !placed.has(n)).map((n) => switchAt(n, taps.length === 1 && only ? only.pin : ''));
  const root = isColumn ? 'driver' : 'input';
  return {
    title: netTitle(chart, net),
    colour: line?.colour ?? '',
    ends: `its ${root}`,
    root: [
      ...suspected('Supply', 'of the matrix', 'matrix supply'),
      ...(line?.part ? suspected('Package', line.part, `package ${line.part}`) : []),
      part(isColumn ? 'Driver' : 'Input', line?.part ?? '', `${root} ${net}`),
      ...suspected('Short', 'to ground', `short ${net}`),
    ],
    taps,
    loose,
  };
}

const short = (title: string) => title.replace(/^Column/, 'col').replace(/^Row/, 'row');

/** Every part and switch in words, in the order of the drawing. */
export function chainLines(plan: ChainPlan): { what: string; seen: string; share: number }[] {
  const line = (what: string, share: number, seen = '') => ({ what, seen, share });
  const parts = (list: readonly ChainPart[]) => list.map(({ name, place, share }) => line(`${name} ${place}`.trim(), share));
  const nodes = (list: readonly ChainNode[]): ReturnType<typeof line>[] =>
    list.flatMap((node) =>
      node.is === 'splice'
        ? [line(`${node.what} ${node.name}`, node.share), ...node.branches.flatMap(nodes)]
        : [
            line(`Wire to ${node.number}`, node.run),
            line(`${node.number} ${node.name}${node.other ? `, ${node.other.title} ${node.other.colour}` : ''}`, node.own, node.words),
          ],
    );
  return [...parts(plan.root), ...plan.taps.flatMap((tap) => [...parts(tap.parts), ...nodes(tap.nodes)]), ...nodes(plan.loose)];
}
