/** Which wire of a connector is the one touched in a photo, how sure that is, and what spoils it. */
import { netTitle } from '../chart/names';
import type { Chart } from '../chart/types';
import { type Lab, labOfLight, luminance } from '../wire/difference';
import { splitColour } from '../wire/format';
import type { Sample } from '../wire/sample';
import { similarColours } from '../wire/similar';
import { possible, wiresAt } from './faded';

/** What was touched. `stripe`: 'none' when there is none to be seen, absent while nobody has said. */
export interface WireSample {
  base: Sample;
  stripe?: Sample | 'none';
  white?: Sample; // something white in the same light
}
export interface SampledWire {
  wire: string; // base/stripe, as the chart or this machine has it
  labels: string[]; // "Row 6"
  pins: string[];
  difference: number; // CIEDE2000 of base or stripe, whichever is farther
  /** Probability, 0…1; null when the photo does not allow one, and the list then rules nothing out. */
  share: number | null;
}
export interface SampledAnswer {
  /** `clear`: one wire; `tie`: several that the photo does not tell apart; `none`: nothing there looks like it; `unsure`: the photo says little. */
  sure: 'clear' | 'tie' | 'none' | 'unsure';
  words: string; // the answer in a sentence
  looks: string; // the nearest names, wherever they are used: "grey with orange"
  wires: SampledWire[]; // likest first
  warnings: { message: string; mend: string }[];
}

/*
 * How sure: Bayes over the wires that are there. Each position is as likely touched as any other. Insulation of one name differs from maker to
 * maker and from camera to camera by about `nameSpread`; the spot adds its own spread. About one wire in seven has aged so far that it passes for
 * another, by the difference in which old wire ranks (`similarColours`). Somebody may have put in a wire of another colour: one in fifty, of any
 * colour of the table. All of it is trade judgement, no source.
 */
const nameSpread = 8; // CIEDE2000
const aged = 0.15;
const stripeWornOff = 0.05;
const replaced = 0.02;
const clear = 0.8;
const tied = 0.25; // of the best one's share

/** Ranks the wires of a connector (`header`) or some lines (`nets`), or of the whole chart, by what was touched. */
export function sampledWires(chart: Chart, place: { header?: string; nets?: readonly string[] }, touched: WireSample): SampledAnswer {
  const warnings = warningsOf(touched);
  const white = touched.white?.light;
  const base = labOfLight(touched.base.light, white) ?? labOfLight(touched.base.light);
  const striped = touched.stripe !== undefined && touched.stripe !== 'none' ? touched.stripe : undefined;
  const stripe = striped && (labOfLight(striped.light, white) ?? labOfLight(striped.light));
  const here = where(place);
  if (!base) return { sure: 'none', words: `Nothing ${here} to compare with.`, looks: '', wires: [], warnings };
  const seen: Seen = {
    base: distances(base),
    baseSpread: Math.hypot(nameSpread, touched.base.spread),
    stripe:
      stripe && striped
        ? { of: distances(stripe), spread: Math.hypot(nameSpread, striped.spread) }
        : touched.stripe === 'none'
          ? 'none'
          : null,
  };
  const looks = [nearest(base), stripe && nearest(stripe)].filter(Boolean).join(' with ');
  const guess = touched.white === undefined || warnings.length > 0;
  const ranked = rank(chart, place, seen);
  const wires = ranked.map(({ likely: _, ...wire }) => (guess ? { ...wire, share: null } : wire));
  return { ...verdict(wires, { guess, here, looks, asked: touched.stripe !== undefined }), looks, wires, warnings };
}

interface Distance {
  difference: number;
  faded: number;
}
type Distances = ReadonlyMap<string, Distance>;
interface Seen {
  base: Distances;
  baseSpread: number;
  stripe: { of: Distances; spread: number } | 'none' | null;
}

const distances = (lab: Lab): Distances => new Map(similarColours(lab).map((like) => [like.name, like]));
const nearest = (lab: Lab): string => similarColours(lab)[0]?.name ?? '';
const where = ({ header, nets }: { header?: string; nets?: readonly string[] }) =>
  header ? `in ${header}` : nets ? 'on these lines' : 'in the chart';

function rank(chart: Chart, place: { header?: string; nets?: readonly string[] }, seen: Seen) {
  const byColour = new Map<string, { labels: string[]; pins: string[] }>();
  for (const { wire, net, pins } of wiresAt(chart, place)) {
    const known = byColour.get(wire) ?? { labels: [], pins: [] };
    byColour.set(wire, { labels: [...new Set([...known.labels, netTitle(chart, net)])], pins: [...known.pins, ...pins] });
  }
  const all = [...byColour].flatMap(([wire, at]) => {
    const like = likeness(seen, splitColour(wire));
    return like ? [{ wire, ...at, difference: like.difference, likely: like.likely * at.pins.length }] : [];
  });
  const positions = all.reduce((sum, { pins }) => sum + pins.length, 0);
  const other = (replaced / (1 - replaced)) * positions * anyOther(seen);
  const sum = all.reduce((total, { likely }) => total + likely, other);
  return all
    .map((each) => ({ ...each, difference: Math.round(each.difference * 10) / 10, share: sum > 0 ? each.likely / sum : 0 }))
    .sort((a, b) => b.share - a.share || a.difference - b.difference || a.wire.localeCompare(b.wire));
}

const bell = (distance: number, spread: number) => Math.exp(-0.5 * (distance / spread) ** 2);
const chance = ({ difference, faded }: Distance, spread: number) => (1 - aged) * bell(difference, spread) + aged * bell(faded, spread);

/** Null for a wire that cannot be it: a stripe was touched and it has none. */
function likeness(
  { base, baseSpread, stripe }: Seen,
  own: { base: string; stripe?: string },
): { difference: number; likely: number } | null {
  const ground = base.get(own.base);
  if (!ground) return null;
  const likely = chance(ground, baseSpread);
  if (stripe === null) return { difference: ground.difference, likely };
  if (stripe === 'none') return { difference: ground.difference, likely: own.stripe === undefined ? likely : likely * stripeWornOff };
  const line = own.stripe === undefined ? undefined : stripe.of.get(own.stripe);
  return line ? { difference: Math.max(ground.difference, line.difference), likely: likely * chance(line, stripe.spread) } : null;
}

/** Likelihood of what was touched if the wire is of any colour whatever. */
function anyOther({ base, baseSpread, stripe }: Seen): number {
  const mean = (of: Distances, spread: number) => [...of.values()].reduce((sum, like) => sum + chance(like, spread), 0) / of.size;
  return mean(base, baseSpread) * (stripe === null || stripe === 'none' ? 1 : mean(stripe.of, stripe.spread));
}

function verdict(
  wires: readonly SampledWire[],
  { guess, here, looks, asked }: { guess: boolean; here: string; looks: string; asked: boolean },
): Pick<SampledAnswer, 'sure' | 'words'> {
  const [first] = wires;
  if (!first) return { sure: 'none', words: `No wire ${here} is like it. It looks ${looks}.` };
  if (guess) return { sure: 'unsure', words: `A guess, likest first; it rules nothing out. It looks ${looks}.` };
  const named = wires.reduce((sum, { share }) => sum + (share ?? 0), 0);
  if (first.difference > possible || named < 0.5)
    return { sure: 'none', words: `No wire ${here} looks like it: it looks ${looks}. It may have been replaced, or the plug is another.` };
  const best = first.share ?? 0;
  if (best >= clear) return { sure: 'clear', words: `It is most likely ${first.wire}.` };
  const ties = wires.filter(({ share }) => (share ?? 0) >= tied * best).map(({ wire }) => wire);
  const bases = new Set(ties.map((wire) => splitColour(wire).base));
  if (ties.length === 1) return { sure: 'tie', words: `Perhaps ${first.wire}, but not surely: look again in daylight.` };
  if (!asked && bases.size === 1)
    return { sure: 'tie', words: `${[...bases].join('')}, which ${ties.length} wires ${here} are: touch the stripe too.` };
  const list = ties
    .slice(0, 4)
    .join(', ')
    .replace(/, ([^,]*)$/, ' or $1');
  return { sure: 'tie', words: `${list}: look again in daylight${asked ? '' : ', or touch the stripe too'}.` };
}

/* When a spot says too little (trade judgement, no source). */
const blownShare = 0.2; // of the disc
const darkest = 0.003; // light of the brightest channel: about 10 of 255
const darkWhite = 0.1; // luminance: about 90 of 255
const tintedWhite = 40; // CIELAB chroma: more than a warm lamp gives paper
const mixed = 12; // CIEDE2000
const brighter = 1.15;

function warningsOf({ base, stripe, white }: WireSample): SampledAnswer['warnings'] {
  const spots = [{ what: 'The wire', at: base }, ...(stripe && stripe !== 'none' ? [{ what: 'The stripe', at: stripe }] : [])];
  const warnings = spots.flatMap(({ what, at }) => {
    if (at.clipped > blownShare)
      return [{ message: `${what} is blown out there.`, mend: 'Touch a spot without glare, or take the picture darker.' }];
    if (Math.max(...at.light) < darkest)
      return [{ message: `${what} is too dark there to have a colour.`, mend: 'Touch a lit spot, or bring a lamp.' }];
    if (at.spread > mixed)
      return [{ message: `${what}: the spot lies across two colours.`, mend: 'Touch the middle of it, or take the picture closer.' }];
    return [];
  });
  if (!white)
    return [
      { message: 'No white is marked.', mend: 'Mark paper or anything white that lies in the same light; until then this is a guess.' },
      ...warnings,
    ];
  return [...whiteWarnings(white, spots), ...warnings];
}

function whiteWarnings(white: Sample, spots: readonly { at: Sample }[]): SampledAnswer['warnings'] {
  const brightest = Math.max(...white.light);
  const elsewhere = 'Mark another white spot in the same light.';
  if (white.clipped > blownShare)
    return [{ message: 'The white spot is blown out.', mend: 'Mark a white spot without glare, or take the picture darker.' }];
  if (luminance(white.light) < darkWhite) return [{ message: 'The white spot is too dark.', mend: elsewhere }];
  const lab = labOfLight(white.light, [brightest, brightest, brightest]);
  if (lab && Math.hypot(lab.a, lab.b) > tintedWhite) return [{ message: 'The white spot is not white.', mend: elsewhere }];
  if (white.spread > mixed) return [{ message: 'The white spot lies across two colours.', mend: elsewhere }];
  if (spots.some(({ at }) => luminance(at.light) > brighter * luminance(white.light)))
    return [
      { message: 'The wire is brighter than the white spot.', mend: 'The white spot lies in a shadow or is not white. Mark another.' },
    ];
  return [];
}
