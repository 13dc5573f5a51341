/** A new machine or board design, and what a machine still lacks. */
import { information } from '../finding';
import { matrixSize } from '../numbering';
import { type BoardDesign, boardDesign, type Machine, machine, type Numbering } from '../schema';
import type { Finding } from '../types';
import type { EntryChart } from './types';

export interface NewMachine {
  id: string; // lower-case letters, digits and hyphens
  name: string;
  unit?: string;
  sort?: string;
  serial?: string;
  since?: string;
  numbering?: Numbering;
}

const usual: Numbering = { order: 'column-row', first: 1, width: 2 };

/** A machine whose places are all there and without a name. Throws when id or name break the schema: read them at the boundary first. */
export const emptyMachine = (design: BoardDesign, { sort = '', numbering = usual, ...rest }: NewMachine): Machine =>
  machine.parse({ format: 'fettlebook-machine/1', ...rest, sort, design: design.id, numbering, switches: [] });

export interface NewDesign {
  id: string; // capital letters, digits and hyphens
  name: string;
  boards: BoardDesign['boards']; // one at least
  matrix: BoardDesign['matrix'];
  stripeOrder?: 'base-stripe' | 'stripe-base';
  notes?: string;
}

/** A board design without headers and lines. Throws when a field breaks the schema: read them at the boundary first. */
export const emptyDesign = (fields: NewDesign): BoardDesign =>
  boardDesign.parse({ format: 'fettlebook-board/1', ...fields, nets: [], headers: [] });

/** A chart to enter a board design by itself; its machine is nobody's and is not to be kept. */
export const blankChart = (design: BoardDesign): EntryChart => ({
  design,
  machine: emptyMachine(design, { id: 'none', name: 'No machine' }),
});

/** What a machine still lacks of what its board design has lines for. Nothing of it is wrong: a machine need not use every line. */
export function lintMissing(machine: Machine, design: BoardDesign): Finding[] {
  const findings: Finding[] = [];
  const say = (path: string, message: string, mend: string) => findings.push(information('still-missing', path, message, mend));
  for (const [matrix, path, things] of [
    ['switch', 'switches', machine.switches],
    ['lamp', 'lamps', machine.lamps],
  ] as const) {
    const { columns, rows } = matrixSize(design, matrix);
    const named = new Set(things.map((t) => `${t.column} ${t.row}`)).size;
    const places = columns * rows;
    if (named < places)
      say(
        path,
        `${places - named} of ${places} ${matrix} places have no name.`,
        `Paste the ${matrix} chart, or name them; leave out what the machine does not use.`,
      );
  }
  for (const [kind, path, used] of [
    ['direct', 'direct', machine.direct.map((d) => d.net)],
    ['load', 'loads', machine.loads.map((l) => l.net)],
  ] as const) {
    const lines = design.nets.filter((net) => net.kind === kind);
    const free = lines.filter((net) => !used.includes(net.id));
    const what = kind === 'load' ? 'load lines' : 'direct inputs';
    if (free.length > 0)
      say(
        path,
        `${free.length} of ${lines.length} ${what} have nothing on them.`,
        `Paste a list, or leave out what the machine does not use.`,
      );
  }
  if (machine.chains.length === 0)
    say(
      'chains',
      'Nothing says how the harness runs behind a pin.',
      'Paste a connector list with “goes to” in order, or enter it as you follow the wires.',
    );
  return findings;
}
