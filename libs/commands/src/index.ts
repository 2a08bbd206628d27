export * from './accounts.js';
export * from './animals.js';
export * from './definitions.js';
export * from './import-program-file.js';
export * from './program-file/program-file.js';
export * from './programs.js';
export * from './vocabulary.js';
