export * from './archive-csv.js';
export * from './archive-description.js';
export * from './archive-fault.js';
