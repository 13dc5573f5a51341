/** What the tests of driven loads say of volts, ohms and danger. */
import type { Load } from '../../chart/schema';
import type { Chart } from '../../chart/types';
import type { Test } from '../types';

const liveVolts = 42.4; // V peak, IEC 60335-1, 8.1.4
const largeMicrofarads = 4700;
/** Hazard of touching the load rail with the power off: 3 where a reservoir must be checked first. */
export function railHazard(chart: Chart, supply: string): Test['hazard'] {
  const { storedMicrofarads = 0, volts = 0 } = chart.nets.get(supply) ?? {};
  return storedMicrofarads >= largeMicrofarads || (storedMicrofarads > 0 && volts > liveVolts) ? 3 : 0;
}
export const offWords = (chart: Chart, supply: string) =>
  railHazard(chart, supply) === 3 ? 'Mains plug out, reservoir measured and discharged: ' : 'Mains plug out: ';
export const aboutVolts = (chart: Chart, load: Load) => {
  const volts = load.volts ?? chart.nets.get(load.supply)?.volts;
  return volts ? `about ${volts} V` : 'the full supply';
};

/** Good ohms across a winding; from memory where the chart does not say. */
export function ohmsWords({ ohms, kind, windings }: Load): string {
  if (ohms) return `about ${ohms} Ω, not under ${(0.7 * ohms).toPrecision(2)} Ω`;
  if (windings === 'double') return 'strong winding 1–5 Ω, hold winding 30–200 Ω';
  return kind === 'relay'
    ? '50–300 Ω'
    : kind === 'coil'
      ? '3–12 Ω when it is only pulsed, 50–300 Ω when it is held on'
      : 'not open, not near zero';
}
