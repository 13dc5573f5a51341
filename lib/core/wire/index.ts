export * from './colours';
export * from './gauge';
export * from './parse';
