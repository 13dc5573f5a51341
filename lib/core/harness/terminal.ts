/** The terminal for one position. Every problem names the position, the wire and the mend. */
import type { Header } from '../chart/schema';
import type { WireEnd } from '../chart/types';
import type { Stock, TerminalPart } from '../parts/schema';
import { togetherAwg } from '../wire/gauge';
import { type Fit, fitOf, type PositionLoad } from './fit';
import { holdsPins, type Pins, pinWords, suitsPins } from './pin';
import { samePitch } from './pitch';
import type { Problem } from './types';

export interface TerminalChoice {
  terminal: TerminalPart | null; // null: `problems` has the error
  problems: Problem[];
}
export const wireWords = (wires: readonly WireEnd[]) => wires.map((w) => `${w.colour} ${w.awg} AWG`).join(' with ');

/**
 * A terminal of the header's pitch, plating and pins that takes all the wires together. One that fits without remarks goes before one to
 * try first; where a current flows, one that holds the pin on two sides before one that does not; one on hand before one to order, then the
 * cheaper, then by id.
 */
export function chooseTerminal(
  position: number,
  wires: readonly WireEnd[],
  header: Pick<Header, 'id' | 'pitchMm' | 'plating'> & Pins,
  terminals: readonly TerminalPart[],
  stock: Stock,
  load: PositionLoad = { amps: 0, loaded: 1 },
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
  const suited = plated.filter((t) => suitsPins(t, header));
  if (suited.length === 0)
    return refuse(
      `the pins of ${header.id} are ${pinWords(header)}; ${plated.map((t) => `${t.id} is for ${pinWords({ pinShape: t.pin, pinMm: t.pinMm })}`).join(', ')}.`,
      'Add a terminal for these pins to the catalogue, or replace the header by one that the terminals are made for.',
    );
  const holding = suited.filter((t) => holdsPins(t, header));
  if (holding.length === 0)
    return refuse(
      `${suited.map((t) => t.id).join(', ')} holds its pin on one side, and the pins of ${header.id} are round.`,
      'Add a terminal that holds on two sides to the catalogue, or replace the header by one with square pins.',
    );

  const tried = holding.map((terminal) => ({ terminal, fit: fitOf(terminal, wires, load) }));
  const grip = (t: TerminalPart) => (load.amps > 0 && t.contact !== 'two-sided' ? 1 : 0);
  const [best] = tried
    .flatMap(({ terminal, fit }) => (fit.fits ? [{ terminal, remarks: fit.remarks }] : []))
    .sort((a, b) => a.remarks.length - b.remarks.length || grip(a.terminal) - grip(b.terminal) || before(a.terminal, b.terminal, stock));
  if (best) return { terminal: best.terminal, problems: best.remarks.map((r) => problem('warning', r.message, r.mend)) };
  const refusals = tried.flatMap(({ fit }) => (fit.fits ? [] : [fit]));
  return refuse(whyNot(refusals, wires, load.amps), mendOf(refusals, wires));
}

function before(a: TerminalPart, b: TerminalPart, stock: Stock): number {
  const toOrder = (t: TerminalPart) => ((stock[t.id] ?? 0) > 0 ? 0 : 1);
  const price = (t: TerminalPart) => (t.packPence === undefined ? Number.MAX_VALUE : t.packPence / t.pack); // no price: last
  return toOrder(a) - toOrder(b) || price(a) - price(b) || (a.id < b.id ? -1 : 1);
}

type Refusal = Extract<Fit, { fits: false }>;

function whyNot(refusals: readonly Refusal[], wires: readonly WireEnd[], amps: number): string {
  const together = togetherAwg(wires);
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
