/**
 * What each fault mostly shows, as shares of 1: a fix whose words leave it open did more likely what its fault does. Our own judgement from
 * the behaviour of matrix, loads and lamps (lib/core/diagnosis): common practice, no source.
 */
import type { FaultClass } from '../diagnosis/classes';

const shows: Partial<Record<FaultClass, Readonly<Record<string, number>>>> = {
  'worn-contact': { sometimes: 0.6, dead: 0.25, weak: 0.1, hot: 0.05 },
  'cracked-joint': { sometimes: 0.6, dead: 0.3, weak: 0.1 },
  'scorched-connector': { hot: 0.35, dead: 0.25, sometimes: 0.2, weak: 0.2 },
  'misplaced-plug': { 'wrong-one': 0.5, dead: 0.45, 'blows-fuse': 0.05 },
  'exchanged-wires': { 'wrong-one': 0.9, dead: 0.05, 'with-another': 0.05 },
  'broken-wire': { dead: 0.8, sometimes: 0.2 },
  splice: { sometimes: 0.5, dead: 0.25, weak: 0.25 },
  short: { always: 0.4, 'with-another': 0.4, 'blows-fuse': 0.1, dead: 0.1 },
  'switch-adjustment': { sometimes: 0.3, dead: 0.2, always: 0.2, twice: 0.2, 'by-itself': 0.1 },
  'switch-dirty': { sometimes: 0.6, twice: 0.25, dead: 0.15 },
  'switch-broken': { dead: 0.7, always: 0.2, sometimes: 0.1 },
  'lug-joint': { sometimes: 0.5, dead: 0.3, weak: 0.2 },
  'diode-absent': { dead: 1 },
  'diode-bypassed': { 'with-another': 0.9, 'wrong-one': 0.1 },
  'diode-reversed': { dead: 0.4, 'with-another': 0.3, 'wrong-one': 0.3 },
  optic: { always: 0.35, dead: 0.35, sometimes: 0.3 },
  driver: { dead: 0.5, always: 0.3, 'with-another': 0.2 },
  'row-input': { dead: 0.5, always: 0.5 },
  transistor: { always: 0.6, dead: 0.3, 'blows-fuse': 0.1 },
  fuse: { dead: 0.8, 'blows-fuse': 0.2 },
  coil: { weak: 0.3, dead: 0.3, hot: 0.3, 'blows-fuse': 0.1 },
  lamp: { dead: 0.5, sometimes: 0.3, weak: 0.2 },
  supply: { weak: 0.35, dead: 0.3, sometimes: 0.15, resets: 0.2 },
  mechanical: { weak: 0.35, always: 0.25, sometimes: 0.2, twice: 0.1, dead: 0.1 },
};
const otherwise = 0.1; // for what a fault seldom shows

/** How much likelier a sign is once the fault is known; 1 for a fault of which nothing is said here. */
export const shownBy = (fault: string | undefined) => {
  const known = shows[fault as FaultClass];
  return (does: string): number => (known ? otherwise + (known[does] ?? 0) : 1);
};
