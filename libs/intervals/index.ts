export { interval } from './interval.js';
export type { Interval } from './interval.js';
export { IntervalSet } from './interval-set.js';
