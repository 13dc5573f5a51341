export { currentOf, fuseOf, rms } from './current';
export { lostPerCut, offcut, piecesFit } from './cut';
export { commonDerating, deratedAmps, deratingOf, loadedPositions } from './derate';
export { dischargeSeconds, instrumentVolts, liveVolts, peakVolts, storedJoules } from './discharge';
export { chooseHousing } from './housing';
export { type PlanChoices, planConnector } from './plan';
export { leastPull, pullStandard } from './pull';
export { chooseTerminal } from './terminal';
export type * from './types';
