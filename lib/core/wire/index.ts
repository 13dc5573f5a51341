export * from './colours';
export * from './difference';
export * from './format';
export * from './gauge';
export * from './parse';
export * from './sample';
export * from './similar';
