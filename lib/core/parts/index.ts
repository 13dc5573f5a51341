export { readCatalogue } from './read';
export { tally } from './tally';
