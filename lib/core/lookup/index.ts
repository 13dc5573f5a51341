export { type FadedCandidate, fadedCandidates, type SeenWire } from './faded';
export { longestClue, lookup } from './lookup';
export { type SampledAnswer, type SampledWire, sampledWires, type WireSample } from './sampled';
export type * from './types';
export { circuitView, faceView, lineView } from './view';
