/** The map of a machine: its matrices as drawings, and beneath them whatever is wired directly. Pressing a cell asks for its circuit. */
import { type PinnedKind, photosOf } from '@/lib/core/chart/pinned';
import type { Chart } from '@/lib/core/chart/types';
import { CircuitList } from './circuit-list';
import { MatrixMap } from './drawings';
import type { Marks } from './drawings/matrix-cell';

export interface MachineMapProps {
  chart: Chart;
  marks: Marks;
  /** The lamp that is shown, by number. */
  litLamp?: string;
  /** Lamps that are on a photo, by number. */
  shownLamps?: readonly string[];
}

/** What of a machine is on its photos, those apart that were removed for good: switches and loads for the marks of the map, lamps apart, as they have numbers of their own. */
export function shownOnPhotos(chart: Chart, removed: ReadonlySet<string>): { shown: string[]; shownLamps: string[] } {
  const pins = photosOf(chart).flatMap((photo) => (removed.has(photo.picture) ? [] : photo.pins));
  const of = (...kinds: PinnedKind[]) => [...new Set(pins.filter((pin) => kinds.includes(pin.kind)).map((pin) => pin.of))];
  return { shown: of('switch', 'load'), shownLamps: of('lamp') };
}

const ask = (chart: Chart, query: Record<string, string>) => `/machines/${chart.machine.id}?${new URLSearchParams(query)}#ask`;

export const SwitchMap = ({ chart, marks }: MachineMapProps) => (
  <MatrixMap chart={chart} idPrefix="map" {...marks} href={(circuit) => ask(chart, { circuit })} />
);

export const LampMap = ({ chart, litLamp, shownLamps }: MachineMapProps) => (
  <MatrixMap
    chart={chart}
    of="lamp"
    idPrefix="lamps"
    lit={litLamp}
    shown={shownLamps}
    href={(lamp) => ask(chart, { clue: `lamp ${lamp}`, pick: `lamp:${lamp}` })}
  />
);

/** Whether anything is wired beside the matrices. */
export const hasBeneath = ({ circuits, loads, illumination }: Chart) =>
  circuits.some((c) => c.kind === 'direct') || loads.length > 0 || illumination.length > 0;

export const Beneath = ({ chart, marks }: MachineMapProps) => (
  <CircuitList chart={chart} marks={marks} href={(clue) => ask(chart, clue.startsWith('sw ') ? { circuit: clue.slice(3) } : { clue })} />
);
