export { freeFor } from './free';
export { readCatalogue } from './read';
export { tally } from './tally';
export { terminalsOf } from './terminals';
