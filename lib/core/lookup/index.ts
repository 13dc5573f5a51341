export { type FadedCandidate, fadedCandidates, type SeenWire } from './faded';
export { longestClue, lookup } from './lookup';
export type * from './types';
export { circuitView, faceView, lineView } from './view';
