export { autocorrelation, effectiveCount, naiveChart } from './autocorrelation.js';
export type { Autocorrelation, NaiveChart } from './autocorrelation.js';
export { autoregression, lagRegression, residualsOf } from './autoregression.js';
export type { Autoregression, LagRegression } from './autoregression.js';
export { overallCapability, ppkInterval } from './capability.js';
export type { OverallCapability, SpecificationLimits } from './capability.js';
export { batchMeans, longTermLimits } from './correlated-limits.js';
export type { BatchMeans, CentredLimits } from './correlated-limits.js';
export type { GaugeAnovaRow, GaugeSource } from './gauge-anova.js';
export type {
  DistinctCategories, GaugeAcceptance, GaugeAssessment, GaugeFigure, GaugeFigures, GaugeVerdict,
} from './gauge-assessment.js';
export type { GaugeAnova, InteractionPooling, VarianceComponent } from './gauge-components.js';
export type { GaugeReading } from './gauge-layout.js';
export { rangeFactors } from './gauge-ranges.js';
export type { GaugeRanges, RangeFactors } from './gauge-ranges.js';
export { gaugeStudy, oneAppraiserStudy } from './gauge-study.js';
export type { GaugeStudy, GaugeStudyOptions } from './gauge-study.js';
export { histogram } from './histogram.js';
export type { HistogramClass } from './histogram.js';
export { meanRelativeRange, rootMeanSquareRelativeRange } from './relative-range.js';
export { percentile, summaryOf } from './summary.js';
export type { Summary } from './summary.js';
