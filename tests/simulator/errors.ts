/**
 * How people and meters err. Source: fault model of the project, §8 (mis-press, misread, default of a test result, beep), from memory;
 * what §8 does not name is ours, from memory.
 */
export interface Errors {
  misPress: number; // a press that does not press
  misRead: number; // a neighbour's number read or ticked
  onIt: number; // an open switch reads closed at a look: a ball lies on it
  result: number; // a test that comes out the other way
  emitter: number; // a phone that does not see the glow, a reflection
  wiggleFinds: number; // an intermittent at the tap drops out
  wiggleElsewhere: number; // share of its miss rate with which another one drops out meanwhile
  crackSeen: number;
  darkSeen: number;
  plugSeen: number;
  falseLook: number;
  volts: number; // relative error of a reading
}
export const errors: Errors = {
  misPress: 0.02,
  misRead: 0.01,
  onIt: 0.002,
  result: 0.02,
  emitter: 0.05,
  wiggleFinds: 0.7,
  wiggleElsewhere: 0.3,
  crackSeen: 0.8,
  darkSeen: 0.6,
  plugSeen: 0.95,
  falseLook: 0.02,
  volts: 0.02,
};
/** Nobody errs: what the machine itself would answer. */
export const noErrors: Errors = {
  misPress: 0,
  misRead: 0,
  onIt: 0,
  result: 0,
  emitter: 0,
  wiggleFinds: 1,
  wiggleElsewhere: 0,
  crackSeen: 1,
  darkSeen: 1,
  plugSeen: 1,
  falseLook: 0,
  volts: 0,
};
