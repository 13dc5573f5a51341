export { liveVolts, peakVolts } from './cautions';
export { chooseHousing, lostPerCut, offcut, piecesFit } from './housing';
export { type PlanChoices, planConnector } from './plan';
export { chooseTerminal } from './terminal';
export type * from './types';
