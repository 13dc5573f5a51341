export * from './colours';
export * from './format';
export * from './gauge';
export * from './parse';
