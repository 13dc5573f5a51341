/**
 * Housings, exact or cut down from a longer one. A sawn cut goes through a cavity, so that the neighbour keeps its wall: it costs one
 * position. A scored strip breaks between positions and costs none (common practice, no source).
 */
import type { Header } from '../chart/schema';
import type { Catalogue, HousingPart, Stock } from '../parts/schema';
import type { HousingChoice } from './types';

/** Positions lost at each cut. */
export const lostPerCut = { sawn: 1, scored: 0 } as const;

/** True when pieces of these lengths can be cut from one stock of that length: Σ(l + κ) ≤ L + κ. */
export const piecesFit = (lengths: readonly number[], stock: number, lost: number) =>
  lengths.reduce((sum, l) => sum + l + lost, 0) <= stock + lost;

/** Positions left after the pieces are cut off: max(0, L − Σl − κm); 0 when one piece uses it whole. */
export const offcut = (lengths: readonly number[], stock: number, lost: number) =>
  Math.max(0, stock - lengths.reduce((sum, l) => sum + l, 0) - lost * lengths.length);

const samePitch = (a: number, b: number) => Math.abs(a - b) < 0.02; // 2.5 mm is not 2.54 mm: 0.4 mm out over 12 positions

/** From the drawer when it is there, exact before cut, the shortest cut before a longer; else what to order. */
export function chooseHousing(header: Header, catalogue: Catalogue, stock: Stock): { choice: HousingChoice; housing: HousingPart | null } {
  const all = catalogue.parts.filter((p): p is HousingPart => p.kind === 'housing' && samePitch(p.pitchMm, header.pitchMm));
  const onHand = (p: HousingPart) => stock[p.id] ?? 0;
  const exact = all.filter((p) => p.positions === header.positions);
  const longer = all
    .filter((p) => p.cut !== 'no' && p.positions > header.positions && piecesFit([header.positions], p.positions, lostPerCut[p.cut]))
    .sort((a, b) => a.positions - b.positions || a.id.localeCompare(b.id));
  const ready = exact.find((p) => onHand(p) > 0);
  if (ready)
    return {
      housing: ready,
      choice: { how: 'exact', part: ready.id, name: ready.name, positions: ready.positions, onHand: onHand(ready) },
    };
  const cuttable = longer.find((p) => onHand(p) > 0);
  if (cuttable) return { housing: cuttable, choice: cutFrom(cuttable, header, onHand(cuttable)) };
  const order = exact[0];
  if (order) return { housing: order, choice: { how: 'order', part: order.id, name: order.name, positions: order.positions } };
  const orderLonger = longer[0];
  if (orderLonger) return { housing: orderLonger, choice: cutFrom(orderLonger, header, 0) };
  return {
    housing: null,
    choice: {
      how: 'none',
      message: `No housing of ${header.pitchMm} mm with ${header.positions} or more positions is in the catalogue.`,
      mend: 'Add one to the catalogue, or look for a housing of just this pitch: 2.5 mm and 2.54 mm do not exchange.',
    },
  };
}

function cutFrom(part: HousingPart, header: Header, onHand: number): HousingChoice {
  const cut = part.cut === 'scored' ? 'scored' : 'sawn';
  const lost = lostPerCut[cut];
  return {
    how: 'cut',
    part: part.id,
    name: part.name,
    positions: header.positions,
    from: part.positions,
    lost,
    offcut: offcut([header.positions], part.positions, lost),
    onHand,
    cut,
  };
}
