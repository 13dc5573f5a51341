export { liveVolts, peakVolts } from './cautions';
export { lostPerCut, offcut, piecesFit } from './cut';
export { chooseHousing } from './housing';
export { type PlanChoices, planConnector } from './plan';
export { leastPull, pullStandard } from './pull';
export { chooseTerminal } from './terminal';
export type * from './types';
