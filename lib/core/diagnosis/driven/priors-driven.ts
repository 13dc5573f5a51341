/**
 * Prior weights of the faults of lamps, driven loads and lamp strings, per element. All from memory: odds for a twenty-year-old machine in
 * mixed care; the club's own record updates them. A row with `hard` is split: the rest is intermittent, or high resistance where power flows.
 */
export interface DrivenPrior {
  kind: string;
  weight: number;
  hard?: number; // share that is open for good; absent: all of it
  resistive?: number; // share that is high resistance
}

export const drivenPriors: readonly DrivenPrior[] = [
  // Connectors and harness
  { kind: 'terminal-displacement', weight: 2, hard: 0.4 },
  { kind: 'terminal-crimp', weight: 0.3, hard: 0.5 },
  { kind: 'terminal-soldered', weight: 0.3, hard: 0.5 },
  { kind: 'in-line-crimps', weight: 0.6, hard: 0.5 }, // one on either side
  { kind: 'in-line-displacement', weight: 4, hard: 0.4 },
  { kind: 'terminal-spring', weight: 1, hard: 0.2, resistive: 0.4 },
  { kind: 'joint-power', weight: 1.5, hard: 0.3, resistive: 0.35 },
  { kind: 'wire', weight: 0.3, hard: 0.7 },
  { kind: 'splice', weight: 0.8, hard: 0.4 },
  { kind: 'line-to-ground', weight: 0.15 },
  { kind: 'line-to-supply', weight: 0.05 },
  { kind: 'line-to-neighbour', weight: 0.05 },
  { kind: 'line-to-line-at-lug', weight: 0.1 },
  // Driven loads
  { kind: 'coil-open', weight: 1 },
  { kind: 'coil-turns', weight: 0.5 },
  { kind: 'coil-lug', weight: 1, hard: 0.6 }, // each of three: supply lug, winding at its lug, return lug
  { kind: 'driver-shorted', weight: 1.5 },
  { kind: 'driver-open', weight: 0.6 },
  { kind: 'predriver-dead', weight: 0.24 }, // 0.3, four of five dead
  { kind: 'predriver-stuck', weight: 0.06 },
  { kind: 'enable', weight: 0.1 },
  { kind: 'interlock', weight: 0.3 },
  { kind: 'rectifier', weight: 0.2 },
  { kind: 'fuse', weight: 0.7 }, // blown by itself
  { kind: 'fuse-holder', weight: 0.7, hard: 0.4, resistive: 0.3 },
  { kind: 'flyback-open', weight: 0.4 },
  { kind: 'flyback-shorted', weight: 0.3 },
  { kind: 'flyback-reversed', weight: 0.1 },
  { kind: 'tie-back', weight: 0.1 },
  { kind: 'stroke-never-closes', weight: 4 },
  { kind: 'stroke-never-opens', weight: 0.4 },
  { kind: 'power-winding', weight: 0.5 },
  // Matrix lamps
  { kind: 'lamp', weight: 20 },
  { kind: 'lamp-shorted', weight: 0.2 },
  { kind: 'lamp-socket', weight: 4, hard: 0.3, resistive: 0.4 },
  { kind: 'lamp-lug', weight: 4, hard: 0.6 },
  { kind: 'lamp-diode-open', weight: 2, hard: 0.7 },
  { kind: 'lamp-diode-shorted', weight: 0.5 },
  { kind: 'lamp-diode-reversed', weight: 0.15 },
  { kind: 'lamp-driver-dead', weight: 0.6 },
  { kind: 'lamp-driver-stuck', weight: 0.25 },
  // Lamp strings
  { kind: 'string-terminal', weight: 8, hard: 0.1, resistive: 0.6 },
  { kind: 'string-joint', weight: 5, hard: 0.1, resistive: 0.6 },
  { kind: 'string-socket', weight: 4, hard: 0.3, resistive: 0.4 },
  { kind: 'string-lamp', weight: 20 },
  { kind: 'string-clip', weight: 2, hard: 0.3, resistive: 0.5 },
  { kind: 'string-dimmer', weight: 0.7, hard: 0.7 },
  { kind: 'string-winding', weight: 0.1 },
  { kind: 'string-bus', weight: 0.3, hard: 0.4, resistive: 0.4 },
  { kind: 'string-short', weight: 0.3 },
];

const rows = new Map(drivenPriors.map((row) => [row.kind, row]));

/** Weight of a kind; an unknown kind is a programmer's error. */
export function drivenWeight(kind: string): number {
  const row = rows.get(kind);
  if (!row) throw new Error(`No prior weight for ${kind}`);
  return row.weight;
}

/** How the weight of a kind is shared out. */
export function splitOf(kind: string): { hard: number; resistive: number; loose: number } {
  const { hard = 1, resistive = 0 } = rows.get(kind) ?? {};
  return { hard, resistive, loose: Math.max(0, 1 - hard - resistive) };
}

/** What was done to the machine lately, and what that makes likelier. Ids as with the switches where it is the same. From memory. */
export const drivenHistories = [
  {
    id: 'remade',
    label: 'A plug was made new or moved',
    times: { 'terminal-crimp': 5, 'terminal-displacement': 3 },
  },
  { id: 'coil-replaced', label: 'A coil was replaced', times: { 'flyback-reversed': 10, 'coil-lug': 3 } },
  { id: 'soldered', label: 'A board was soldered', times: { 'line-to-neighbour': 10 } },
  { id: 'lowered', label: 'The playfield was just lowered', times: { 'line-to-ground': 5 } },
  { id: 'leak', label: 'A battery has leaked, or it stood damp', times: { 'terminal-spring': 10 } },
  { id: 'hot', label: 'A connector runs hot', times: { 'joint-power': 3, 'string-joint': 3 } },
  { id: 'moving', label: 'Its wires cross a hinge or go to a moving toy', times: { wire: 8, 'coil-lug': 5, 'lamp-lug': 5 } },
] as const satisfies readonly { id: string; label: string; times: Readonly<Record<string, number>> }[];
export type DrivenHistory = (typeof drivenHistories)[number]['id'];

/** Weight of a kind after all that was done to the machine. Ids that are none of these are passed over. */
export function weightAfter(done: readonly string[]): (kind: string) => number {
  const found = drivenHistories.filter(({ id }) => done.includes(id));
  return (kind) =>
    found.reduce((weight, { times }) => weight * ((times as Readonly<Record<string, number>>)[kind] ?? 1), drivenWeight(kind));
}
