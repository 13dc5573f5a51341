/**
 * A pigtail: a short stranded wire of a size that the terminal takes, spliced to the harness wires outside the housing. The way out when
 * wires fit no terminal, when two share one, or when a wire was cut back too far. Lengths are common practice, no source.
 */
import type { Header } from '../chart/schema';
import type { WireEnd } from '../chart/types';
import type { Catalogue, SplicePart, Stock, TerminalPart } from '../parts/schema';
import { estimatedInsulationMm, safeAmps, togetherAwg } from '../wire/gauge';
import type { PositionLoad } from './fit';
import { chooseTerminal } from './terminal';
import type { Pigtail, PlanRow, Problem } from './types';

const sizes = [12, 14, 16, 18, 20, 22, 24, 26, 28, 30]; // hook-up wire as it is sold, AWG
const lengthMm = 150;
const slackMm = 40; // stripped end, splice, and no pull on either
const strands = 7; // stranded, as its terminal wants

export interface PigtailTask {
  position: number;
  wires: readonly WireEnd[];
  header: Header;
  terminals: readonly TerminalPart[];
  catalogue: Catalogue;
  stock: Stock;
  load: PositionLoad;
  fuseAmps: number | null;
  why: Pigtail['why'];
  chosen: boolean;
}

/**
 * The pigtail nearest in copper to the wires that some terminal takes without a remark and that bears the current; one that the line's fuse
 * protects goes first. Null when there is none: then the fault is the current, the plating or the pins, and a splice mends nothing.
 */
export function pigtailFor(task: PigtailTask): Pigtail | null {
  const { position, wires, header, terminals, stock, load, fuseAmps, why, chosen } = task;
  const together = togetherAwg(wires);
  const bears = (awg: number) => safeAmps(awg) ?? 0;
  const [best] = sizes
    .filter((awg) => bears(awg) >= load.amps)
    .flatMap((awg) => {
      const wire: WireEnd = {
        colour: wires[0]?.colour ?? '',
        awg,
        insulationMm: estimatedInsulationMm(awg),
        insulationKnown: true,
        strands,
      };
      const { terminal, problems } = chooseTerminal(position, [wire], header, terminals, stock, load);
      return terminal && problems.length === 0 ? [{ wire, terminal, open: fuseAmps !== null && fuseAmps > bears(awg) }] : [];
    })
    .sort(
      (a, b) =>
        Number(a.open) - Number(b.open) || Math.abs(a.wire.awg - together) - Math.abs(b.wire.awg - together) || a.wire.awg - b.wire.awg,
    );
  if (!best) return null;
  const { wire, terminal } = best;
  return {
    why,
    chosen,
    awg: wire.awg,
    insulationMm: wire.insulationMm,
    lengthMm,
    colour: wire.colour,
    terminal: { part: terminal.id, name: terminal.name, stripMm: terminal.stripMm },
    splice: spliceFor([...wires, wire], task),
    slackMm,
  };
}

/** The splice that takes all these conductors together: one on hand before one to order, then by id. */
function spliceFor(wires: readonly WireEnd[], { catalogue, stock }: PigtailTask): Pigtail['splice'] {
  const together = togetherAwg(wires);
  const onHand = (p: SplicePart) => stock[p.id] ?? 0;
  const [best] = catalogue.parts
    .filter((p): p is SplicePart => p.kind === 'splice' && together >= p.awg[0] && together <= p.awg[1])
    .sort((a, b) => Number(onHand(b) > 0) - Number(onHand(a) > 0) || (a.id < b.id ? -1 : 1));
  if (best) return { part: best.id, name: best.name, onHand: onHand(best) };
  return { part: null, name: `Splice, crimped, for ${together.toFixed(1)} AWG together`, onHand: 0 };
}

/** Gauges that a row's terminal is crimped to. */
export const crimpedAwgs = (row: PlanRow): number[] => (row.pigtail?.chosen ? [row.pigtail.awg] : row.wires.map((w) => w.awg));

/** What an accepted pigtail asks for. `name` is the pin with its wires. */
export function pigtailRemarks(pigtail: Pigtail, position: number, name: string): Problem[] {
  const look = (message: string, mend: string): Problem => ({ level: 'warning', position, message: `${name}: ${message}`, mend });
  return [
    look(
      `it goes on a pigtail of ${pigtail.awg} AWG, ${pigtail.lengthMm} mm long, in ${pigtail.terminal.part}.`,
      `See that ${pigtail.slackMm} mm of it are loose before you cut; free it from the loom if they are not. Stagger the splices.`,
    ),
    ...(pigtail.splice.part === null
      ? [
          look(
            `the catalogue has no splice for it: ${pigtail.splice.name}.`,
            'Add one to the catalogue, or splice with one that its maker rates for these wires.',
          ),
        ]
      : []),
  ];
}
