export * from './build';
export * from './chain';
export * from './lint-design';
export * from './lint-machine';
export * from './names';
export * from './numbering';
export * from './read';
export type * from './types';
export * from './views';
