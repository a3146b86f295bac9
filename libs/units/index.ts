export { convert, converter, exactConversion } from './convert.js';
export type { Ratio } from '#libs/exact';
export { isUnitName, UNIT_NAMES, UNITS } from './unit-table.js';
export type { Dimension, Unit, UnitName } from './unit-table.js';
