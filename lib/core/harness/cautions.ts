/** Which cautions a plan shows. Their texts are in content/cautions.json. */
import texts from '@/content/cautions.json';
import { boardOf } from '../chart/names';
import type { Header, Net } from '../chart/schema';
import type { Chart } from '../chart/types';
import type { Caution } from './types';

/** V peak a.c. or d.c. above which an accessible part counts as live (IEC 60335-1, clause 8.1.4). */
export const liveVolts = 42.4;
const largeMicrofarads = 4700; // a reservoir flagged at any voltage (common practice, no source)

/** Peak of a line's voltage: a.c. is given as r.m.s. */
export const peakVolts = (net: Pick<Net, 'volts' | 'supply'>): number => (net.volts ?? 0) * (net.supply === 'ac' ? Math.SQRT2 : 1);

const caution = (id: keyof typeof texts): Caution => ({ id, ...texts[id] });

/** For work on one header. Lines of every header on the same board and of the same loom count, since a slip reaches them. */
export function cautionsFor(chart: Chart, header: Header, work: { solder: boolean; cut: boolean }): Caution[] {
  const netsOf = (h: Header) => h.pins.flatMap((p) => chart.nets.get(p.net) ?? []);
  const board = [...chart.headers.values()].filter((h) => boardOf(h.id) === boardOf(header.id)).flatMap(netsOf);
  const near = [...board, ...(header.beside ?? []).flatMap((id) => chart.nets.get(id) ?? [])];
  const [highest] = near.filter((n) => peakVolts(n) > liveVolts).sort((a, b) => peakVolts(b) - peakVolts(a));
  const stores = near.some(({ storedMicrofarads = 0, ...net }) =>
    peakVolts(net) > liveVolts ? storedMicrofarads > 0 : storedMicrofarads >= largeMicrofarads,
  );
  const warm = netsOf(header).some((n) => n.kind === 'illumination' || n.kind.startsWith('lamp'));
  return [
    caution('mains'),
    ...(highest ? [withVolts(caution('high-voltage'), highest)] : []),
    ...(stores ? [caution('stored-charge')] : []),
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
