/** Which colours of the table a colour may be, seen or said: its likeness, and what age and lamplight usually do. */
import { colourNames, colourOf } from './colours';
import { ciede2000, type Lab, labOfSrgb } from './difference';

/** A colour by its name of the table, or as measured. */
export type Shade = string | Lab;

/** Colours that pass for each other once insulation has aged (trade judgement, no source). */
export const usualConfusions: readonly (readonly [string, string])[] = [
  ['orange', 'red'],
  ['orange', 'brown'],
  ['red', 'brown'],
  ['violet', 'blue'],
  ['grey', 'white'],
  ['yellow', 'white'],
];
/** What age usually makes of a colour counts as this share of the difference: it then ranks before all that is not usual. */
const fadedShare = 0.4;

export interface SimilarColour {
  name: string;
  difference: number; // CIEDE2000
  /** The difference by which it ranks: less than `difference` when age usually makes the one of the other. */
  faded: number;
  usual: boolean; // a usual confusion
}

const table: ReadonlyMap<string, Lab> = new Map(
  colourNames.flatMap((name) => {
    const lab = labOfSrgb(colourOf(name)?.srgb ?? '');
    return lab ? [[name, lab] as const] : [];
  }),
);
const labOf = (shade: Shade): Lab | undefined => (typeof shade === 'string' ? table.get(shade) : shade);

/** Colours among these, likest first. Names that are not in the table are left out; a `seen` that is not gives none. */
export function similarColours(seen: Shade, among: readonly string[] = colourNames): SimilarColour[] {
  const shade = labOf(seen);
  if (!shade) return [];
  const name = nearestName(shade);
  const named = table.get(name) ?? shade;
  return among
    .flatMap((other): SimilarColour[] => {
      const own = table.get(other);
      if (!own) return [];
      const difference = ciede2000(shade, own);
      const usual = usualConfusions.some((pair) => name !== other && pair.includes(name) && pair.includes(other));
      return [
        {
          name: other,
          difference,
          faded: usual ? Math.min(difference, ciede2000(shade, named) + fadedShare * ciede2000(named, own)) : difference,
          usual,
        },
      ];
    })
    .sort((a, b) => a.faded - b.faded || colourNames.indexOf(a.name) - colourNames.indexOf(b.name));
}

/** The table's name for a measured colour. */
function nearestName(shade: Lab): string {
  const [first = ''] = [...table.keys()].sort((a, b) => ciede2000(shade, table.get(a) ?? shade) - ciede2000(shade, table.get(b) ?? shade));
  return first;
}
