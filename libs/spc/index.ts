export {
  acceptanceProbability, outgoingQualityLimit, qualityAccepted, rectifyingInspection, samplingRisks, sequentialPlan,
} from './acceptance-sampling.js';
export type { CountBasis, RectifyingInspection, SamplingPlan, SamplingRisks, SequentialPlan } from './acceptance-sampling.js';
export { autocorrelatedRunLength } from './autocorrelated-run-length.js';
export type { LimitsOfValues } from './autocorrelated-run-length.js';
export { autocorrelation, effectiveCount, naiveChart } from './autocorrelation.js';
export type { Autocorrelation, NaiveChart } from './autocorrelation.js';
export { autoregression, lagRegression, residualsOf } from './autoregression.js';
export type { Autoregression, LagRegression } from './autoregression.js';
export { bestBoxCox, boxCox, boxCoxInverse, boxCoxLogLikelihood } from './box-cox.js';
export type { PowerTransformation } from './box-cox.js';
export { capabilityIndices, cpInterval, cpkInterval, targetIndices } from './capability-indices.js';
export type { CapabilityIndices, IndexWithInterval, Interval, Spread, TargetIndices } from './capability-indices.js';
export { overallCapability, ppkInterval } from './capability.js';
export type { OverallCapability, SpecificationLimits } from './capability.js';
export { batchMeans, longTermLimits } from './correlated-limits.js';
export type { BatchMeans, CentredLimits } from './correlated-limits.js';
export { c4, controlChartFactors } from './constants.js';
export type { ControlChartFactors } from './constants.js';
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
export { correlationOf, hotellingT2, meanAndCovariance, pooledSubgroups, t2IndividualLimits, t2SubgroupLimits } from './multivariate.js';
export type { MeanAndCovariance, Rows, SubgroupMoments, T2Design, T2Limits } from './multivariate.js';
export { andersonDarling } from './normality.js';
export type { NormalityTest } from './normality.js';
export { percentileCapability, referencePercentiles, transformedPercentiles } from './percentile-capability.js';
export type { PercentileCapability, ReferencePercentiles } from './percentile-capability.js';
export { meanRelativeRange, rootMeanSquareRelativeRange } from './relative-range.js';
export { codeLetter, standardPlan } from './standard-plans.js';
export type { InspectionLevel, StandardPlan } from './standard-plans.js';
export { percentile, summaryOf } from './summary.js';
export type { Summary } from './summary.js';
export { oneSidedToleranceFactor, oneSidedToleranceFactorByNormal, twoSidedToleranceFactor } from './tolerance-intervals.js';
export type { TwoSidedMethod } from './tolerance-intervals.js';
