/** What the switch matrix of a board design can read. */
import type { BoardDesign } from './schema';

type Matrix = BoardDesign['matrix'];

/** Volts across one small diode at the current of a row (common practice, no source). */
export const diodeDropVolts = 0.65;
const usualDriverVolts = 0.15; // a column driver that is on

/** Volts that may be lost between the driver and the row before a closed switch reads open. */
export const readableVolts = ({ polarity, rowSupplyVolts, thresholdRatio, driverVolts = usualDriverVolts }: Matrix): number =>
  rowSupplyVolts * (polarity === 'strobe-low' ? thresholdRatio : 1 - thresholdRatio) - driverVolts;

/** Most diodes in series through which a closed path still reads closed. Below 1 no switch with a diode could ever read. */
export const readableDrops = (matrix: Matrix): number => Math.max(0, Math.floor(readableVolts(matrix) / diodeDropVolts + 1e-9));
