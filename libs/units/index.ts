export { convert, converter } from './convert.js';
export type { Ratio } from './ratio.js';
export { isUnitName, UNIT_NAMES, UNITS } from './unit-table.js';
export type { Dimension, Unit, UnitName } from './unit-table.js';
