export { asciiDescription, asciiText } from './ascii-text.js';
export { LasError, type LasFault } from './las-error.js';
export type { LasCurve, LasIndex, LasItem, LasLog, LasRow, LasValue, LasWell } from './las-log.js';
export { LasWriter } from './las-writer.js';
export { writeLas } from './write-las.js';
