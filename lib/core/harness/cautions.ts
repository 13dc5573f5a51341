/** Which cautions a plan shows. Thresholds: 42.4 V peak a.c. or d.c. makes an accessible part live (IEC 60335-1, 8.1.4). */
import texts from '@/content/cautions.json';
import type { Header, Net } from '../chart/schema';
import type { Chart } from '../chart/types';
import type { Caution } from './types';

export const liveVolts = 42.4; // V peak a.c. or d.c., IEC 60335-1 clause 8.1.4
const largeReservoirMicrofarads = 4700; // flagged at any voltage; common practice, no source

/** Peak of a line's voltage: a.c. is given as r.m.s. */
export const peakVolts = (net: Net) => (net.volts ?? 0) * (net.supply === 'ac' ? Math.SQRT2 : 1);

export const caution = (id: keyof typeof texts): Caution => ({ id, ...texts[id] });

/** Cautions for work on one header; voltages of every header on the same board count, since a slip reaches them. */
export function cautionsFor(chart: Chart, header: Header, work: { solder: boolean; cut: boolean }): Caution[] {
  const board = header.id.split('J')[0];
  const near = chart.design.headers
    .filter((h) => h.id.split('J')[0] === board)
    .flatMap((h) => h.pins.flatMap((p) => chart.nets.get(p.net) ?? []));
  const here = header.pins.flatMap((p) => chart.nets.get(p.net) ?? []);
  const live = near.filter((n) => peakVolts(n) > liveVolts);
  const stores = near.some(
    (n) => (n.storedMicrofarads ?? 0) >= largeReservoirMicrofarads || ((n.storedMicrofarads ?? 0) > 0 && peakVolts(n) > liveVolts),
  );
  const warm = here.some((n) => n.kind === 'illumination' || n.kind.startsWith('lamp'));
  return [
    caution('mains'),
    ...(live.length > 0 ? [withVolts(caution('high-voltage'), live)] : []),
    ...(stores ? [caution('stored-charge')] : []),
    caution('batteries'),
    ...(warm ? [caution('heat')] : []),
    ...(work.solder ? [caution('solder')] : []),
    ...(work.cut ? [caution('blade')] : []),
    caution('licensed'),
  ];
}

function withVolts(base: Caution, live: Net[]): Caution {
  const highest = [...live].sort((a, b) => peakVolts(b) - peakVolts(a))[0];
  return highest
    ? { ...base, text: `${highest.name ?? highest.id} is ${highest.volts} V ${highest.supply === 'ac' ? 'a.c.' : 'd.c.'} ${base.text}` }
    : base;
}
