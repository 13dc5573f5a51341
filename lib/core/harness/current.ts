/** The current of one header position, and the fuse of its line. */
import { fuseAmps } from '../chart/fuse';
import type { Header, Net } from '../chart/schema';
import type { Chart } from '../chart/types';

const unequalShare = 1.3; // positions in parallel do not share equally: the worst has 1.3 × the mean (common practice, no source)

export interface Current {
  amps: number; // r.m.s.: what warms wire and terminal
  whileOn: number; // what the voltage drop is counted with
  sharedBy: number; // positions of the line in this header
}

/** R.m.s. of a current that flows for this share of the time: I·√duty. */
export const rms = (amps: number, duty = 1): number => amps * Math.sqrt(duty);

/**
 * Ampere at each position of a line in this header: the worst of those that share it. Null when the chart gives no current. The whole of the
 * line counts as if it went through this one header.
 */
export function currentOf(header: Header, net: Pick<Net, 'id' | 'amps' | 'duty'>): Current | null {
  if (net.amps === undefined) return null;
  const sharedBy = Math.max(1, new Set(header.pins.filter((p) => p.net === net.id).map((p) => p.position)).size);
  const whileOn = sharedBy > 1 ? (net.amps / sharedBy) * unequalShare : net.amps;
  return { amps: rms(whileOn, net.duty), whileOn, sharedBy };
}

export interface Fuse {
  text: string;
  amps: number;
}

/** The fuse that a line hangs on: its own, that of the loads it drives, or that of its string of lamps. The largest when there are several. */
export function fuseOf(chart: Chart, net: string): Fuse | null {
  const own = chart.nets.get(net)?.fuse;
  const through = [
    ...chart.loads.filter((l) => l.net === net).map((l) => l.fuse ?? chart.nets.get(l.supply)?.fuse),
    ...chart.illumination.filter((g) => g.net === net || g.back === net).map((g) => g.fuse),
  ];
  const fuses = (own ? [own] : through).flatMap((text): Fuse[] => {
    const amps = text === undefined ? null : fuseAmps(text);
    return text === undefined || amps === null ? [] : [{ text, amps }];
  });
  return fuses.sort((a, b) => b.amps - a.amps)[0] ?? null;
}
