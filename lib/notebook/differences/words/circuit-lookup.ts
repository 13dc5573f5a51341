import { field, type Telling } from '../telling';

export const circuitLookup: Telling = { keys: { clue: field('Clue'), pick: field('Chosen answer', String) } };
