/** Component values of the simulated machine: ohms, volts, amps. Healthy resistances are common practice, no source. */

/** What may differ between boards of one design; the chart gives the rest. */
export interface BoardValues {
  /** Of a driver that is on, in series with its on-voltage. Fits the closures of the fault model's d.c. solution (0.93–1.02 V). */
  driverOhms: number;
  /** Of an idle push-pull driver towards its idle level; larger than `driverOhms` where the strobing side wins a contention. */
  idleOhms: number;
  /** Pull of an idle column where the design pulls it. */
  columnPullOhms: number;
  diode: { saturationAmps: number; emissionVolts: number };
}

/**
 * Small-signal silicon: 0.59 V at 0.7 mA, 0.65 V at 2.5 mA, 0.72 V at 10 mA. Fitted to the 12 V and 5 V voltages of the fault model,
 * which were found by a d.c. solution (checked by script).
 */
export const boardValues: BoardValues = {
  driverOhms: 5,
  idleOhms: 5,
  columnPullOhms: 4700,
  diode: { saturationAmps: 3.1e-9, emissionVolts: 0.048 },
};

export const ohms = {
  trace: 0.1,
  joint: 0.005,
  pin: 0.015,
  terminal: 0.005,
  segment: 0.05,
  join: 0.005,
  splice: 0.01,
  lug: 0.01,
  contact: 0.1,
  /** Solid short: whisker, bridge, wire against metal. */
  short: 0.1,
  /** Where an input without its pull drifts to. */
  bias: 10e6,
  /** Fitted by hand so that the average of a floating column can be read. */
  columnLoad: 10_000,
};
/** Leakage from every node to ground; keeps the equations solvable. */
export const leakSiemens = 1e-9;
