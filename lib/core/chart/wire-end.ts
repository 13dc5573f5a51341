/** A wire as it really is: what its row does not say comes from its line. */
import { estimatedInsulationMm } from '../wire/gauge';
import type { Net, Wire } from './schema';
import type { WireEnd } from './types';

const gaugeOfUnknownNet = 22; // a pin of a net that the design does not list still needs a drawing

/** `net` is undefined for a line that the design does not list. */
export function wireEnd(wire: Wire, net: Net | undefined): WireEnd {
  const awg = wire.awg ?? net?.awg ?? gaugeOfUnknownNet;
  // A net's insulation belongs to its own gauge: it says nothing of a wire of another.
  const known = wire.insulationMm ?? (awg === net?.awg ? net.insulationMm : undefined);
  return {
    colour: wire.colour ?? net?.colour ?? '',
    awg,
    insulationMm: known ?? estimatedInsulationMm(awg),
    insulationKnown: known !== undefined,
    ...(wire.strands !== undefined && { strands: wire.strands }),
    ...(wire.strandAwg !== undefined && { strandAwg: wire.strandAwg }),
    ...(wire.strandMm !== undefined && { strandMm: wire.strandMm }),
    ...(wire.note !== undefined && { note: wire.note }),
  };
}
