/** Faded wires: which of those that a connector really holds may be the one that was seen. */
import { headerIn, headersAndHalves } from '../chart/half-chart';
import { netTitle, pinOf } from '../chart/names';
import type { Chart, Tap } from '../chart/types';
import { type Lab, labOfSrgb } from '../wire/difference';
import { splitColour } from '../wire/format';
import { parseWire } from '../wire/parse';
import { type Shade, similarColours } from '../wire/similar';
import { stripeOrderOf } from './stripe-order';

/** A wire as it was seen: in words, as pixels `#rrggbb` of a photo (`white`: a white patch in the same frame), or measured. */
export type SeenWire =
  | { words: string }
  | { pixels: { base: string; stripe?: string }; white?: string }
  | { lab: { base: Lab; stripe?: Lab } };

export interface FadedCandidate {
  wire: string; // base/stripe, as the chart or this machine has it
  net: string;
  label: string; // "Row 6"
  pins: string[];
  difference: number; // CIEDE2000 of base or stripe, whichever is farther
  /** `unsure`: from a photo without a white patch. Such a list is in order of likeness but holds every wire: it rules nothing out. */
  sure: 'close' | 'possible' | 'unsure';
  reason: string;
}

/** Of the differences by which base and stripe rank, together: one usual confusion is close, two are possible (trade judgement, no source). */
const close = 15;
export const possible = 30;

interface Pair {
  base: Shade;
  stripe?: Shade;
}

/**
 * Wires of a connector (`header`), of some lines (`nets`) or of both together that may be the one seen, likest first; without either, of
 * the whole chart. A wire that this machine has instead of the manual's stands in its place. Empty when nothing there comes near, or when
 * the words are no wire, the pixels not `#rrggbb`, or the connector unknown.
 */
export function fadedCandidates(chart: Chart, place: { header?: string; nets?: readonly string[] }, seen: SeenWire): FadedCandidate[] {
  const pairs = pairsOf(chart, seen);
  const guess = 'pixels' in seen && seen.white === undefined;
  return wiresAt(chart, place)
    .flatMap(({ net, wire, pins }) => {
      const best = bestOf(pairs, wire);
      if (!best || (!guess && best.faded > possible)) return [];
      const sure: FadedCandidate['sure'] = guess ? 'unsure' : best.faded <= close && !best.worn ? 'close' : 'possible';
      const reason = guess ? `${best.reason}; without a white patch in the photo this is a guess` : best.reason;
      const candidate = { wire, net, label: netTitle(chart, net), pins, difference: Math.round(best.difference * 10) / 10, sure, reason };
      return [{ candidate, rank: best.faded + (best.worn ? possible : 0) }];
    })
    .sort((a, b) => a.rank - b.rank)
    .map(({ candidate }) => candidate);
}

function pairsOf(chart: Chart, seen: SeenWire): Pair[] {
  if ('words' in seen) {
    return parseWire(seen.words, stripeOrderOf(chart)).flatMap(({ base, stripe, ordered }): Pair[] =>
      stripe !== undefined && !ordered
        ? [
            { base, stripe },
            { base: stripe, stripe: base },
          ]
        : [{ base, stripe }],
    );
  }
  if ('lab' in seen) return [seen.lab];
  const base = labOfSrgb(seen.pixels.base, seen.white);
  const stripe = seen.pixels.stripe === undefined ? undefined : labOfSrgb(seen.pixels.stripe, seen.white);
  return base && stripe !== null ? [{ base, stripe }] : [];
}

/** Wires of a connector, of some lines, or of the whole chart with its in-line connectors: each colour pair of each line once, with its pins. */
export function wiresAt(chart: Chart, { header, nets }: { header?: string; nets?: readonly string[] }) {
  const wires = new Map<string, { net: string; wire: string; pins: string[] }>();
  for (const id of header === undefined ? headersAndHalves(chart).map((each) => each.id) : [header]) {
    const there = headerIn(chart, id);
    for (const position of new Set(there?.header.pins.map((pin) => pin.position))) {
      const tap = there?.chart.pins.get(pinOf(id, position));
      if (!there || !tap || (nets && !nets.includes(tap.net))) continue;
      for (const wire of new Set(coloursAt(there.chart, tap))) {
        const known = wires.get(`${tap.net} ${wire}`) ?? { net: tap.net, wire, pins: [] };
        wires.set(`${tap.net} ${wire}`, { ...known, pins: [...known.pins, tap.pin] });
      }
    }
  }
  return [...wires.values()];
}

/** What the connector really holds there: what this machine was found to have, else the manual's. */
function coloursAt(chart: Chart, tap: Tap): string[] {
  const found = chart.asFound.flatMap(({ place, wire }) => (wire && place.pin === tap.pin ? [wire] : []));
  return found.length > 0 ? found : tap.wires.map((w) => w.colour);
}

interface Likeness {
  difference: number;
  faded: number;
  reason: string;
  worn: boolean; // likely only if its stripe wore off
}

function bestOf(pairs: readonly Pair[], wire: string): Likeness | null {
  const all = pairs.flatMap((pair) => likenessOf(pair, wire) ?? []);
  return all.sort((a, b) => Number(a.worn) - Number(b.worn) || a.faded - b.faded)[0] ?? null;
}

/** Both colours count. Null when only the wire that was seen has a stripe. */
export function likenessOf(seen: Pair, wire: string): Likeness | null {
  const { base, stripe } = splitColour(wire);
  if (seen.stripe !== undefined && stripe === undefined) return null;
  const parts = [partOf('base', seen.base, base)];
  if (seen.stripe !== undefined && stripe !== undefined) parts.push(partOf('stripe', seen.stripe, stripe));
  const known = parts.flatMap((part) => part ?? []);
  if (known.length < parts.length) return null;
  const worn = stripe !== undefined && seen.stripe === undefined;
  const reasons = known.flatMap(({ reason }) => (reason ? [reason] : []));
  if (worn) reasons.push(`its ${stripe} stripe may have worn off`);
  return {
    difference: Math.max(...known.map((part) => part.difference)),
    faded: known.reduce((sum, part) => sum + part.faded, 0),
    reason: reasons.join('; ') || 'the same colours',
    worn,
  };
}

function partOf(part: string, seen: Shade, own: string): { difference: number; faded: number; reason: string } | null {
  const [like] = similarColours(seen, [own]);
  if (!like) return null;
  const { difference, faded, usual } = like;
  const apart = `${Math.round(difference)} apart (CIEDE2000)`;
  const named = typeof seen === 'string';
  const said = named ? seen : (similarColours(seen)[0]?.name ?? '');
  const looks = named ? '' : `${part} looks ${said}, from ${own} ${apart}`;
  const aged = usual ? `${own} often passes for ${said} once it is old` : '';
  const unlike = named && !usual && said !== own ? `${part} ${own} and ${said} are ${apart}` : '';
  return { difference, faded, reason: [looks, aged, unlike].filter(Boolean).join('; ') };
}

/** Colour pairs of the chart, each once. */
export const wiresOf = (chart: Chart): string[] => [
  ...new Set([
    ...[...chart.nets.values()].map((net) => net.colour),
    ...[...chart.pins.values()].flatMap((tap) => tap.wires.map((w) => w.colour)),
    ...chart.asFound.flatMap(({ wire }) => wire ?? []),
  ]),
];

/** Wires of the chart that the named pair may be by the usual confusions of old wire, likest first; its own name is not among them. */
export function usuallyTakenFor(chart: Chart, base: string, stripe: string | undefined): string[] {
  return wiresOf(chart)
    .flatMap((wire) => {
      const like = likenessOf({ base, stripe }, wire);
      return like && !like.worn && like.difference > 0 && like.faded <= close ? [{ wire, faded: like.faded }] : [];
    })
    .sort((a, b) => a.faded - b.faded)
    .map(({ wire }) => wire);
}
