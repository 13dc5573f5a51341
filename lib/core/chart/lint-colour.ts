/** Colours of a chart: those that the table does not have, and the pair that is kept for the protective earth. */
import { colourNames } from '../wire/colours';
import { error, warning } from './finding';
import type { Finding } from './types';

/** A colour outside the table cannot be looked up or drawn. `ground`: the wire is one. */
export function* lintColour(path: string, colour: string, ground = false): Generator<Finding> {
  for (const name of new Set(colour.split('/'))) {
    if (!colourNames.includes(name)) {
      yield error('unknown-colour', path, `“${name}” is not one of the wire colours.`, `Use ${colourNames.join(', ')}.`);
    }
  }
  if (!ground && (colour === 'green/yellow' || colour === 'yellow/green')) {
    const message = `${colour} is the colour pair of the protective earth, yet this is no ground.`; // IEC 60757: GNYE
    yield warning('earth-colour', path, message, 'Correct the colour; if it really is so, mark the wire at both ends.');
  }
}
