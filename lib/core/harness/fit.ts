/**
 * Does a terminal take these wires? Conductors of several wires count by the copper of all of them, not rounded to a size; insulations
 * must go into the wing together. Gauge areas: ASTM B258; the other limits are common practice, no source, unless marked.
 */
import type { WireEnd } from '../chart/types';
import type { TerminalPart } from '../parts/schema';
import { awgAreaMm2, togetherAwg } from '../wire/gauge';
import { deratedAmps } from './derate';

/** Something to try before it is trusted, and how. */
export interface Remark {
  message: string;
  mend: string;
}
export type Fit = { fits: true; remarks: Remark[] } | { fits: false; why: 'gauge' | 'insulation' | 'current'; reason: string };

const overArea = 1.03; // over the thickest wire by up to 3 % of area: pull-test a sample first
const estimateError = 0.5; // mm, of an insulation that nobody measured (see estimatedInsulationMm)
const hair = 1e-9; // 1.1 + 2.2 is a hair over 3.3

const countWords = ['no wire', 'one wire', 'two wires', 'three wires', 'four wires'];
export const wiresInWords = (count: number) => countWords[count] ?? `${count} wires`;
const mm = (value: number) => `${Number(value.toFixed(2))} mm`;

/** What a position carries: r.m.s. ampere, 0 when not known, and how many positions of its housing are loaded. */
export interface PositionLoad {
  amps: number;
  loaded: number;
}

/** Wires of one position against one terminal. */
export function fitOf(terminal: TerminalPart, wires: readonly WireEnd[], { amps, loaded }: PositionLoad): Fit {
  const { id, awg, ratedWires } = terminal;
  const together = togetherAwg(wires);
  const range = `${id} takes ${awg[0]} to ${awg[1]} AWG`;
  const area = awgAreaMm2(together) / awgAreaMm2(awg[0]);
  if (together > awg[1] || area > overArea) return { fits: false, why: 'gauge', reason: range };
  const insulation = insulationOf(terminal, wires);
  if (!insulation.fits) return insulation;
  const rating = deratedAmps(terminal, loaded);
  const derated = rating < terminal.amps ? `, ${Number(rating.toFixed(2))} A with ${loaded} positions loaded` : '';
  if (amps > rating + hair) return { fits: false, why: 'current', reason: `${id} is rated ${terminal.amps} A${derated}` };
  const remarks = [...insulation.remarks];
  if (together < awg[0])
    remarks.push({
      message: `${together.toFixed(2)} AWG ${wires.length > 1 ? 'together ' : ''}is over the ${awg[0]} AWG of ${id} by ${((area - 1) * 100).toFixed(1)} % of area.`,
      mend: 'Pull-test a sample before the first crimp on the harness.',
    });
  if (wires.length > ratedWires)
    remarks.push({
      message: `${wiresInWords(wires.length)} in ${id} are outside the maker’s rating of ${wiresInWords(ratedWires)}.`,
      mend: `Pull-test samples, each wire by itself, against the force for the smallest${mixed(wires) ? '; lay the smallest innermost' : ''}.`,
    });
  return { fits: true, remarks };
}

const mixed = (wires: readonly WireEnd[]) => new Set(wires.map((w) => w.awg)).size > 1;

/** Side by side within the wing: good. Only bundled within it: try and inspect. An estimate refuses only when it is out by more than its error. */
function insulationOf(terminal: TerminalPart, wires: readonly WireEnd[]): Fit {
  const [least, most] = terminal.insulationMm;
  const side = wires.reduce((sum, w) => sum + w.insulationMm, 0);
  const bundle = Math.sqrt(wires.reduce((sum, w) => sum + w.insulationMm ** 2, 0));
  const unsure = wires.filter((w) => !w.insulationKnown).length * estimateError;
  if (side >= least - hair && side <= most + hair) return { fits: true, remarks: [] };
  const range = `${terminal.id} takes insulation of ${least} to ${mm(most)}`;
  if (side + unsure < least - hair || bundle - unsure > most + hair) return { fits: false, why: 'insulation', reason: range };
  const size = `insulation of ${mm(side)}${wires.length > 1 ? ' side by side' : ''}`;
  if (side > most && bundle <= most + hair)
    return {
      fits: true,
      remarks: [
        {
          message: `${size} is over the ${mm(most)} of ${terminal.id}, bundled it may go in.`,
          mend: 'Try one on a sample and inspect both wings.',
        },
      ],
    };
  return {
    fits: true,
    remarks: [
      {
        message: `${size} is only an estimate, and ${range}.`,
        mend: 'Measure the insulation, write it in the chart, and try one on a sample.',
      },
    ],
  };
}
