export { decimalText, exactText, rounded } from './decimal-text.js';
export type { Rounding, Ties } from './decimal-text.js';
export { compare, decimal, decimalsOf, minus, over, plus, ratio, times, toNumber } from './ratio.js';
export type { Ratio } from './ratio.js';
