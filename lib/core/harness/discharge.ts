/** Charge that stays on a line after the plug is out: its energy, and an estimate of how long a bleeder takes. Measure before touching. */
import { netTitle } from '../chart/names';
import type { Header, Net } from '../chart/schema';
import type { Chart } from '../chart/types';
import { linesNear } from './near';
import type { Reservoir } from './types';

/** V peak a.c. or d.c. above which an accessible part counts as live (IEC 60335-1, clause 8.1.4). */
export const liveVolts = 42.4;
/** Above these a part counts as live in dry conditions for measuring instruments; lower when wet (IEC 61010-1, edition not checked). */
export const instrumentVolts = { acRms: 30, acPeak: 42.4, dc: 60 } as const;
const largeMicrofarads = 4700; // a reservoir flagged at any voltage (common practice, no source)
const five = 5; // V, below which nothing welds (common practice, no source)

/** Peak of a line's voltage: a.c. is given as r.m.s. */
export const peakVolts = (net: Pick<Net, 'volts' | 'supply'>): number => (net.volts ?? 0) * (net.supply === 'ac' ? Math.SQRT2 : 1);

/** Joule in a capacitor: ½CV². */
export const storedJoules = (microfarads: number, volts: number): number => (microfarads / 2e6) * volts ** 2;

/** Seconds through a resistor from one voltage to a lower one: R·C·ln(V0/V1); 0 when it is there already. An estimate: a broken bleeder takes days. */
export const dischargeSeconds = (ohms: number, microfarads: number, from: number, to: number): number =>
  from <= to ? 0 : ohms * microfarads * 1e-6 * Math.log(from / to);

/** Reservoirs within reach of work on this header, the greatest energy first. */
export const reservoirsOf = (chart: Chart, header: Header): Reservoir[] =>
  linesNear(chart, header)
    .filter((net) => (net.storedMicrofarads ?? 0) > 0)
    .map((net) => reservoirOf(chart, net))
    .sort((a, b) => b.joules - a.joules || (a.net < b.net ? -1 : 1));

function reservoirOf(chart: Chart, net: Net): Reservoir {
  const microfarads = net.storedMicrofarads ?? 0;
  const volts = peakVolts(net);
  const live = volts > liveVolts;
  const ohms = net.bleederOhms;
  return {
    net: net.id,
    label: netTitle(chart, net.id),
    microfarads,
    volts,
    joules: storedJoules(microfarads, volts),
    live,
    flagged: live || microfarads >= largeMicrofarads,
    bleed:
      ohms === undefined
        ? null
        : {
            ohms,
            toLimit: dischargeSeconds(ohms, microfarads, volts, liveVolts),
            toFive: dischargeSeconds(ohms, microfarads, volts, five),
          },
  };
}
