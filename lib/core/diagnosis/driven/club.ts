/** What the club's record of proven fixes makes likelier among loads, lamps or strings. */
import type { Chart } from '../../chart/types';
import type { FaultClass } from '../classes';
import { type FixCounts, updated } from '../switch/priors';
import { faultOf } from '../verdict';
import { type FaultList, faultList, type TimesOf } from './driven-parts';
import { lampFaults } from './lamp-faults';
import type { LampHarm } from './lamp-table';
import { lampSpots, linesOf } from './lamps';
import { fuseOf, loadFaults } from './load-faults';
import type { LoadHarm } from './load-table';
import { perChart } from './per-chart';
import { drivenWeight } from './priors-driven';
import { stringFaults } from './string-faults';
import type { StringHarm } from './string-table';

export type Domain = 'loads' | 'lamps' | 'strings';
type Shares = ReadonlyMap<FaultClass, number>;
/** Factor on the weights of each class of fault; nothing counted leaves them as they are. */
export function clubTimes(chart: Chart, domain: Domain, counts: FixCounts): TimesOf {
  if (Object.keys(counts).length === 0) return () => 1;
  const factors = updated(sharesOf(chart, domain), counts);
  return (fault) => factors.get(fault) ?? 1;
}

/** Prior weight of each class, summed over all instances in this machine. */
const sharesOf = perChart(
  (chart, domain: Domain) => summed(everything(chart, domain)),
  (domain) => domain,
);

function summed({ faults, elements }: Pick<FaultList<string>, 'faults' | 'elements'>): Shares {
  const shares = new Map<FaultClass, number>();
  for (const { element, weight, words } of faults) {
    const about = elements.get(element);
    if (!about) continue;
    const fault = faultOf(about, words);
    shares.set(fault, (shares.get(fault) ?? 0) + weight);
  }
  return shares;
}

/** Every fault of the whole machine, whatever was seen. */
function everything(chart: Chart, domain: Domain): Pick<FaultList<string>, 'faults' | 'elements'> {
  const priors = drivenWeight;
  if (domain === 'loads') {
    const list = faultList<LoadHarm>((h) => [h]);
    const fuses = new Set(chart.loads.map((load) => fuseOf(chart, load)));
    loadFaults(list, { chart, priors, loads: chart.loads, complaints: new Set(), fuses });
    return list;
  }
  if (domain === 'lamps') {
    const list = faultList<LampHarm>((h) => [h]);
    const spots = lampSpots(chart);
    lampFaults(list, { chart, priors, spots, lamps: spots, lines: linesOf([], spots), complaints: new Set(), sneaks: new Set() });
    return list;
  }
  const list = faultList<StringHarm>((h) => [h]);
  for (const string of chart.illumination) stringFaults(list, chart, priors, string, false);
  return list;
}
