/**
 * Odds of faults, an element each. Source: faults table of the project's fault model, §7, from memory (orders of magnitude, no published
 * source). `hard`, `intermittent` and `stuck` are shares; `quiet` is the chance that a whole session goes by without the fault (§8).
 */
export interface Odds {
  weight: number;
  hard: number;
  intermittent: number;
  stuck: number;
  quiet: number;
}
const odds = (weight: number, hard: number, intermittent: number, stuck = 0, quiet = 0.3): Odds => ({
  weight,
  hard,
  intermittent,
  stuck,
  quiet,
});

export const prior = {
  blade: odds(10, 0.25, 0.6, 0.15, 0.1),
  microswitch: odds(4, 0.35, 0.45, 0.2, 0.1),
  emitter: odds(3, 0.6, 0.4, 0, 0.1),
  detector: odds(1.5, 0.6, 0.4, 0, 0.1),
  window: odds(3, 0.6, 0.4, 0, 0.1),
  interface: odds(1.5, 0.6, 0.4, 0, 0.1),
  lug: odds(4, 0.6, 0.4, 0, 0.1), // of which a quarter is the through-join: our split
  diodeOpen: odds(2, 0.7, 0.3, 0, 0.1),
  diodeShorted: odds(0.5, 1, 0),
  diodeBypassed: odds(0.1, 1, 0),
  diodeReversed: odds(0.15, 1, 0),
  insulation: odds(1, 1, 0), // 0.3 contact bypassed, 0.3 both bypassed, 0.4 to ground
  displacement: odds(2, 0.4, 0.6),
  crimp: odds(0.3, 0.5, 0.5),
  spring: odds(1, 0.2, 0.8),
  joint: odds(0.5, 0.3, 0.7),
  segment: odds(0.3, 0.7, 0.3, 0, 0.4),
  splice: odds(0.8, 0.4, 0.6),
  exchanged: odds(0.02, 1, 0), // per neighbour pair
  unplugged: odds(0.5, 1, 0),
  shifted: odds(0.03, 1, 0),
  turned: odds(0.03, 1, 0), // not in the table: that of a shift
  elsewhere: odds(0.03, 1, 0), // of which two exchanged, a pair: our split
  plugsExchanged: odds(0.03, 1, 0),
  lineToGround: odds(0.15, 0.5, 0.5, 0, 0.4),
  neighbours: odds(0.05, 1, 0), // per pair
  driver: odds(0.6, 0.8, 0.2, 0, 0.5),
  driverStuck: odds(0.25, 1, 0),
  driverWeak: odds(0.1, 1, 0),
  latch: odds(0.3, 0.8, 0.2, 0, 0.5),
  select: odds(0.1, 1, 0),
  package: odds(0.1, 1, 0),
  input: odds(0.6, 0.8, 0.2, 0, 0.5),
  inputStuck: odds(0.3, 1, 0),
  pull: odds(0.15, 1, 0),
  trace: odds(0.5, 0.4, 0.6), // 0.2 trace and 0.3 socket
  emitterSupply: odds(0.3, 0.6, 0.4), // not in the table: that of a latch
} as const;

export const shares = { joinOfLug: 0.25, bypassContact: 0.3, bypassBoth: 0.3, toGround: 0.4 };
/** Added to a driver that has grown weak, ohms: common practice, no source. */
export const weakOhms = 400;
/** Miss rate of an intermittent in its bad phase: Beta(1, 2). Source: fault model §8, from memory. */
export const missRate = { a: 1, b: 2 };
