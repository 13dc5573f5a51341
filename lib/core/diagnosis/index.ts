export type { Advice, Power } from './advice';
export * from './classes';
export type { Seen } from './switch/case';
export * from './switch/find';
export { type Network, networkOf, type PathElement } from './switch/network';
export { type FixCounts, type History, histories } from './switch/priors';
export type * from './types';
export { ahead, certain, type Finding, type Oddity, type Standing, type Suspect } from './verdict';
