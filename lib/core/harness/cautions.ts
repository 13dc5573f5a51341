/** Which cautions a plan shows. Their texts are in content/cautions.json. */
import texts from '@/content/cautions.json';
import type { Header, Net } from '../chart/schema';
import type { Chart } from '../chart/types';
import { liveVolts, peakVolts, reservoirsOf } from './discharge';
import { linesNear } from './near';
import type { Caution, Reservoir } from './types';

const caution = (id: keyof typeof texts): Caution => ({ id, ...texts[id] });

/** For work on one header. Lines of every header on the same board and of the same loom count, since a slip reaches them. */
export function cautionsFor(chart: Chart, header: Header, work: { solder: boolean; cut: boolean }): Caution[] {
  const [highest] = linesNear(chart, header)
    .filter((n) => peakVolts(n) > liveVolts)
    .sort((a, b) => peakVolts(b) - peakVolts(a));
  const stores = reservoirsOf(chart, header).filter((r) => r.flagged);
  const own = header.pins.flatMap((p) => chart.nets.get(p.net) ?? []);
  const warm = own.some((n) => n.kind === 'illumination' || n.kind.startsWith('lamp'));
  return [
    caution('mains'),
    ...(highest ? [withVolts(caution('high-voltage'), highest)] : []),
    ...(stores.length > 0 ? [withEnergy(caution('stored-charge'), stores)] : []),
    caution('batteries'),
    ...(warm ? [caution('heat')] : []),
    ...(work.solder ? [caution('solder')] : []),
    ...(work.cut ? [caution('blade')] : []),
    caution('licensed'),
  ];
}

function withVolts(base: Caution, net: Net): Caution {
  const volts = net.supply === 'ac' ? `${net.volts} V a.c., ${peakVolts(net).toFixed(1)} V at its peak` : `${net.volts} V d.c.`;
  return { ...base, text: `${volts} on ${net.name ?? net.id}. ${base.text}` };
}

/** A fenced supply above the limit is flagged all the same, and a full one of 25 V welds. */
function withEnergy(base: Caution, [greatest, ...others]: readonly Reservoir[]): Caution {
  if (!greatest) return base;
  const rest = others.length > 0 ? `, and ${others.length} more within reach` : '';
  const { label, microfarads, volts, joules } = greatest;
  return { ...base, text: `${label}: ${microfarads} µF at ${Number(volts.toFixed(1))} V hold ${joules.toFixed(1)} J${rest}. ${base.text}` };
}
