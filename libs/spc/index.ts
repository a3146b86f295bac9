export { overallCapability, ppkInterval } from './capability.js';
export type { OverallCapability, SpecificationLimits } from './capability.js';
export { histogram } from './histogram.js';
export type { HistogramClass } from './histogram.js';
export { percentile, summaryOf } from './summary.js';
export type { Summary } from './summary.js';
