import { type Read, read } from '../chart/read';
import { type Catalogue, catalogue } from './schema';

export { tally } from './tally';

/** Reads a catalogue at the boundary: what is wrong is said by path, with a mend. */
export const readCatalogue = (json: unknown): Read<Catalogue> => read(catalogue, json);
