export { longestClue, lookup } from './lookup';
export type * from './types';
export { circuitView, faceView, lineView } from './view';
