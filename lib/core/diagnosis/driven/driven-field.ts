/** What the fault finder weighs for loads, lamps and strings of lamps. */
import type { Element, Present, Probe } from '../types';
import type { Oddity } from '../verdict';
import type { Field } from '../weigh';
import type { Where } from './driven-parts';

export interface DrivenField {
  field: Field;
  probes: Probe[];
  elements: ReadonlyMap<string, Element>;
  where: ReadonlyMap<string, Where>;
  /** All faults that something seen or testable hears, with what is wrong, in words. */
  faults: readonly { id: string; element: string; weight: number; words: string }[];
  notes: string[]; // cautions first
  /** What must be done before anything else: "Power off at once: …". */
  urgent: string | null;
  wrong: boolean; // something behaves as it should not
  cleared: string[]; // what is known to be good, a sentence each
  /** What was seen and goes with none of these explanations. */
  odd(explanations: readonly (readonly Present[])[]): Oddity[];
}
