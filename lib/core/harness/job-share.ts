/** What one connector has of a job: its strip, who else is on it, and what is left. */
import type { Stock } from '../parts/schema';
import { lostPerCut } from './cut';
import type { Job, JobPlace, JobStrip } from './job-types';
import { gapWords } from './job-words';
import { lineWords } from './step-words';
import type { HeaderChoice, HousingChoice } from './types';

export interface JobShare {
  place: JobPlace;
  strip: JobStrip;
  /** The others on the same strip, by id. */
  others: string[];
  /** The first of the job's connectors on this strip: its plan counts the strip, the others name it. */
  first: string;
  kept: string[]; // offcuts of the whole job that go back to stock
  proven: boolean;
  gap: string; // what is not proved, in words; empty when all is
}

/** The part of a job that concerns this connector; null when the job refused it, or does not know it. */
export function shareOf(job: Job, id: string): JobShare | null {
  const place = job.connectors.find((c) => c.id === id);
  const strip = place && job.strips[place.strip];
  if (!place || !strip) return null;
  const together = job.connectors.filter((c) => c.strip === place.strip).map((c) => c.id);
  return {
    place,
    strip,
    others: together.filter((other) => other !== id),
    first: together[0] ?? id,
    kept: job.strips.flatMap(({ kept }) => (kept === null ? [] : [kept])),
    proven: job.proven,
    gap: job.groups.map(gapWords).filter(Boolean).join(' '),
  };
}

/** The housing as the plan of one connector knows it. */
export function housingOf(share: JobShare, stock: Stock): HousingChoice {
  const { place, strip, others } = share;
  const named = { part: place.part, name: place.name, positions: place.to - place.from + 1 };
  const onHand = strip.from === 'to buy' ? 0 : (stock[place.part] ?? 0);
  if (strip.cut === 'no' || place.exact) return onHand > 0 ? { how: 'exact', ...named, onHand } : { how: 'order', ...named };
  if (others.length > 0) return { how: 'shared', ...named, from: strip.positions, onHand, cut: strip.cut, share };
  return { how: 'cut', ...named, from: strip.positions, lost: lostPerCut[strip.cut], offcut: strip.left, onHand, cut: strip.cut };
}

/** The new board header, likewise. */
export function headerOf(share: JobShare): HeaderChoice {
  const { place, strip } = share;
  return {
    part: place.part,
    name: place.name,
    from: strip.positions,
    cut: strip.cut === 'no' || place.exact ? null : strip.cut,
    share,
  };
}

/** "cut to 9, 7 and 6 for A3P4, A3P5 and A3P6, 4 positions kept": what the strip is for. `nameOf`: the piece for a connector. */
export function shareNote({ strip }: JobShare, nameOf: (id: string) => string): string {
  const lengths = strip.pieces.map((p) => p.to - p.from + 1);
  const left = strip.kept === null ? '' : `, ${strip.left} positions kept`;
  return `cut to ${lineWords(lengths)} for ${lineWords(strip.pieces.map((p) => nameOf(p.id)))}${left}`;
}
