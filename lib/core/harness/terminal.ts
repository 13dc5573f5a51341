/** The terminal for one position. Every problem names the position, the wire and the mend. */
import type { Header } from '../chart/schema';
import type { WireEnd } from '../chart/types';
import type { Stock, TerminalPart } from '../parts/schema';
import { equivalentAwg } from '../wire/gauge';
import { type Fit, fitOf } from './fit';
import { samePitch } from './pitch';
import type { Problem } from './types';

export interface TerminalChoice {
  terminal: TerminalPart | null; // null: `problems` has the error
  problems: Problem[];
}
export const wireWords = (wires: readonly WireEnd[]) => wires.map((w) => `${w.colour} ${w.awg} AWG`).join(' with ');

/**
 * A terminal of the header's pitch and plating that takes all the wires together. One that fits without remarks goes before one to try
 * first, one on hand before one to order, then the cheaper, then by id. `amps` is the current that the position carries, 0 when not known.
 */
export function chooseTerminal(
  position: number,
  wires: readonly WireEnd[],
  header: Pick<Header, 'id' | 'pitchMm' | 'plating'>,
  terminals: readonly TerminalPart[],
  stock: Stock,
  amps = 0,
): TerminalChoice {
  const problem = (level: Problem['level'], message: string, mend: string): Problem => ({
    level,
    position,
    message: `${header.id}-${position}, ${wireWords(wires)}: ${message}`,
    mend,
  });
  const refuse = (message: string, mend: string): TerminalChoice => ({ terminal: null, problems: [problem('error', message, mend)] });

  const solid = wires.filter((w) => w.strands === 1).length;
  if (solid > 0 && solid < wires.length)
    return refuse('a solid and a stranded wire do not hold in one terminal.', 'Splice both to a stranded pigtail and crimp that.');
  // Crimping solid wire is prohibited in NASA-STD-8739.4; these terminals are made for stranded.
  if (solid > 0) return refuse('a crimp does not hold solid wire.', 'Splice a stranded pigtail to it and crimp that.');
  const ofPitch = terminals.filter((t) => samePitch(t.pitchMm, header.pitchMm));
  if (ofPitch.length === 0)
    return refuse(
      `there is no terminal of ${header.pitchMm} mm for this housing.`,
      'Add one to the catalogue, and to the housing’s terminals.',
    );
  const plated = ofPitch.filter((t) => t.plating === header.plating);
  if (plated.length === 0)
    return refuse(
      `the header is ${header.plating}, and there is no ${header.plating} terminal of ${header.pitchMm} mm.`,
      `Add a ${header.plating} terminal to the catalogue: unlike platings wear and corrode each other.`,
    );

  const tried = plated.map((terminal) => ({ terminal, fit: fitOf(terminal, wires, amps) }));
  const [best] = tried
    .flatMap(({ terminal, fit }) => (fit.fits ? [{ terminal, remarks: fit.remarks }] : []))
    .sort((a, b) => a.remarks.length - b.remarks.length || before(a.terminal, b.terminal, stock));
  if (best) return { terminal: best.terminal, problems: best.remarks.map((r) => problem('warning', r.message, r.mend)) };
  const refusals = tried.flatMap(({ fit }) => (fit.fits ? [] : [fit]));
  return refuse(whyNot(refusals, wires, amps), mendOf(refusals, wires));
}

function before(a: TerminalPart, b: TerminalPart, stock: Stock): number {
  const toOrder = (t: TerminalPart) => ((stock[t.id] ?? 0) > 0 ? 0 : 1);
  const price = (t: TerminalPart) => (t.packPence === undefined ? Number.MAX_VALUE : t.packPence / t.pack); // no price: last
  return toOrder(a) - toOrder(b) || price(a) - price(b) || (a.id < b.id ? -1 : 1);
}

type Refusal = Extract<Fit, { fits: false }>;

function whyNot(refusals: readonly Refusal[], wires: readonly WireEnd[], amps: number): string {
  const together = equivalentAwg(wires.map((w) => w.awg));
  const gauge = wires.length > 1 ? `${together.toFixed(2)} AWG together` : `${together} AWG`;
  const insulation = wires.map((w) => `${w.insulationMm}`).join(' + ');
  const load = amps > 0 ? ` at ${Number(amps.toFixed(2))} A` : '';
  return `no terminal takes ${gauge}, insulation ${insulation} mm${load}: ${refusals.map((r) => r.reason).join('; ')}.`;
}

function mendOf(refusals: readonly Refusal[], wires: readonly WireEnd[]): string {
  if (refusals.some((r) => r.why === 'current'))
    return 'Spread the line over more positions, or add a terminal of higher rating to the catalogue.';
  return wires.length > 1
    ? 'Splice them to one pigtail of a size that fits and crimp that.'
    : 'Splice a pigtail of a size that fits, or add a terminal for this wire to the catalogue.';
}
