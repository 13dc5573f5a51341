/**
 * The terminal for one position. Two wires in one terminal count by the area of both; makers rate one wire unless they say otherwise,
 * and the plan says so in words. Rules marked in the code; figures for two wires follow from the gauge formula (ASTM B258).
 */
import type { Header } from '../chart/schema';
import type { WireEnd } from '../chart/types';
import type { Stock, TerminalPart } from '../parts/schema';
import { awgAreaMm2, equivalentAwg } from '../wire/gauge';
import type { Problem } from './types';

const overArea = 1.03; // over the largest wire by up to 3 % of area: pull-test a sample first
const gaugeSlack = 0.02; // 22 + 22 AWG is 19.01, not 19

interface Fit {
  terminal: TerminalPart;
  warnings: string[];
}

const gauges = (wires: readonly WireEnd[]) => wires.map((w) => w.awg);
export const wireWords = (wires: readonly WireEnd[]) => wires.map((w) => `${w.colour} ${w.awg} AWG`).join(' with ');

/** A terminal that takes these wires, or why none does; every problem names the position and the wire. */
export function chooseTerminal(
  position: number,
  wires: readonly WireEnd[],
  header: Header,
  terminals: readonly TerminalPart[],
  stock: Stock,
  amps = 0,
): { terminal: TerminalPart | null; problems: Problem[] } {
  const name = `${header.id}-${position}, ${wireWords(wires)}`;
  const problem = (level: Problem['level'], message: string, mend: string): Problem => ({
    level,
    position,
    message: `${name}: ${message}`,
    mend,
  });
  const solid = wires.filter((w) => w.strands === 1).length;
  if (solid > 0 && solid < wires.length)
    return {
      terminal: null,
      problems: [
        problem(
          'error',
          'a solid and a stranded wire in one terminal do not hold.',
          'Splice a stranded pigtail to the two and crimp that.',
        ),
      ],
    };
  if (solid > 0)
    return {
      terminal: null,
      problems: [
        problem('error', 'these terminals take stranded wire only.', 'Splice a stranded pigtail to the solid wire and crimp that.'),
      ],
    };
  const ofPitch = terminals.filter((t) => Math.abs(t.pitchMm - header.pitchMm) < 0.02);
  if (ofPitch.length === 0)
    return {
      terminal: null,
      problems: [problem('error', `no terminal of ${header.pitchMm} mm is in the catalogue.`, 'Add one to the catalogue.')],
    };
  const plated = ofPitch.filter((t) => t.plating === header.plating);
  if (plated.length === 0)
    return {
      terminal: null,
      problems: [
        problem(
          'error',
          `the header is ${header.plating}, and no ${header.plating} terminal of ${header.pitchMm} mm is in the catalogue.`,
          `Add a ${header.plating} terminal: tin on gold wears through.`,
        ),
      ],
    };
  const fits = plated.flatMap((t) => fitOf(t, wires) ?? []).filter((f) => f.terminal.amps >= amps);
  const [best] = fits.sort(
    (a, b) =>
      a.warnings.length - b.warnings.length ||
      rank(a.terminal, stock) - rank(b.terminal, stock) ||
      a.terminal.id.localeCompare(b.terminal.id),
  );
  if (!best)
    return {
      terminal: null,
      problems: [
        problem(
          'error',
          whyNot(plated, wires, amps),
          wires.length > 1
            ? 'Splice both to a pigtail of one size and crimp that.'
            : 'Splice a pigtail of a size that fits, or add a terminal for this wire to the catalogue.',
        ),
      ],
    };
  return {
    terminal: best.terminal,
    problems: best.warnings.map((w) =>
      problem(
        'warning',
        w,
        wires.length > 1 ? 'Pull-test a sample of both wires, each by itself.' : 'Measure the insulation and try one crimp first.',
      ),
    ),
  };
}

/** On hand before to order, then by price. */
const rank = (t: TerminalPart, stock: Stock) => ((stock[t.id] ?? 0) > 0 ? 0 : 1e6) + (t.packPence ?? 1e5) / t.pack;

function fitOf(terminal: TerminalPart, wires: readonly WireEnd[]): Fit | null {
  const warnings: string[] = [];
  const [thick, thin] = terminal.awg;
  const together = equivalentAwg(gauges(wires));
  if (together > thin + gaugeSlack) return null;
  if (together < thick - gaugeSlack) {
    if (awgAreaMm2(together) > awgAreaMm2(thick) * overArea) return null;
    warnings.push(`together ${together.toFixed(1)} AWG, a little over the ${thick} AWG of ${terminal.id}.`);
  }
  if (wires.length > terminal.ratedWires)
    warnings.push(
      `two wires in ${terminal.id} are outside the maker’s rating of ${terminal.ratedWires === 1 ? 'one wire' : `${terminal.ratedWires} wires`}.`,
    );
  const insulation = insulationFit(terminal, wires);
  if (insulation === 'no') return null;
  if (insulation !== 'yes') warnings.push(insulation);
  return { terminal, warnings };
}

/** Side by side within the wing is good; bundled within it, try and inspect. An estimated insulation never refuses, it warns. */
function insulationFit(terminal: TerminalPart, wires: readonly WireEnd[]): string {
  const [least, most] = terminal.insulationMm;
  const widths = wires.map((w) => w.insulationMm);
  const known = wires.every((w) => w.insulationKnown);
  const side = widths.reduce((sum, d) => sum + d, 0);
  const bundle = Math.sqrt(widths.reduce((sum, d) => sum + d * d, 0));
  if (side >= least && side <= most) return 'yes';
  const size = `the insulation, ${known ? '' : 'estimated at '}${side.toFixed(2)} mm${wires.length > 1 ? ' side by side' : ''}`;
  if (wires.length > 1 && bundle <= most) return `${size}, is more than the ${most} mm of ${terminal.id}: try one and inspect it.`;
  return known ? 'no' : `${size}, is outside the ${least} to ${most} mm of ${terminal.id}.`;
}

function whyNot(terminals: readonly TerminalPart[], wires: readonly WireEnd[], amps: number): string {
  const together = equivalentAwg(gauges(wires));
  const ranges = terminals
    .map((t) => `${t.id} takes ${t.awg[0]} to ${t.awg[1]} AWG, ${t.insulationMm[0]} to ${t.insulationMm[1]} mm, ${t.amps} A`)
    .join('; ');
  const load = amps > 0 ? ` at ${amps} A` : '';
  return `no terminal takes ${wires.length > 1 ? `${together.toFixed(1)} AWG together` : `${wires[0]?.awg} AWG with ${wires[0]?.insulationMm} mm insulation`}${load}: ${ranges}.`;
}
