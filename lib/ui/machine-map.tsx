/** The map of a machine: its matrices as drawings, and beneath them whatever is wired directly. Pressing a cell asks for its circuit. */
import type { Chart } from '@/lib/core/chart/types';
import { CircuitList } from './circuit-list';
import { MatrixMap } from './drawings';
import type { Marks } from './drawings/matrix-cell';

export interface MachineMapProps {
  chart: Chart;
  marks: Marks;
  /** The lamp that is shown, by number. */
  litLamp?: string;
}

const ask = (chart: Chart, query: Record<string, string>) => `/machines/${chart.machine.id}?${new URLSearchParams(query)}#ask`;

export const SwitchMap = ({ chart, marks }: MachineMapProps) => (
  <MatrixMap chart={chart} idPrefix="map" {...marks} href={(circuit) => ask(chart, { circuit })} />
);

export const LampMap = ({ chart, litLamp }: MachineMapProps) => (
  <MatrixMap
    chart={chart}
    of="lamp"
    idPrefix="lamps"
    lit={litLamp}
    href={(lamp) => ask(chart, { clue: `lamp ${lamp}`, pick: `lamp:${lamp}` })}
  />
);

export const Beneath = ({ chart, marks }: MachineMapProps) => (
  <CircuitList chart={chart} marks={marks} href={(clue) => ask(chart, clue.startsWith('sw ') ? { circuit: clue.slice(3) } : { clue })} />
);
