export type { Advice, Power } from './advice';
export type { Seen } from './case';
export * from './classes';
export * from './find';
export type { Network, PathElement } from './network';
export { networkOf } from './network';
export type { Oddity } from './odd';
export { type FixCounts, type History, histories } from './priors';
export type * from './types';
