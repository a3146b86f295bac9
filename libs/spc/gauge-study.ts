import { ratio, times, toNumber } from '#libs/exact';
import { assessGauge, type GaugeAssessment } from './gauge-assessment.js';
import { type GaugeAnova, gaugeAnova, type VarianceComponent } from './gauge-components.js';
import { demandTwo, gaugeLayout, type GaugeLayout, type GaugeReading } from './gauge-layout.js';
import { type GaugeRanges, gaugeRanges, type RangeFactors } from './gauge-ranges.js';

export interface GaugeStudyOptions {
  /** Width from lower to upper limit, in the unit of the readings; without it nothing is said about the tolerance. */
  readonly tolerance?: number | null;
  /**
   * The interaction is pooled into repeatability when its p value is above this; 1 never pools. 0.25 when not given: a high
   * level, so that an interaction is not easily overlooked (ascribed to the reference manual, from memory).
   */
  readonly poolAbovePValue?: number;
  /** Factors for ranges as a form prints them; those of the definitions when not given. */
  readonly factors?: RangeFactors;
}

/** A study of repeatability and reproducibility, by analysis of variance and beside it by averages and ranges. */
export interface GaugeStudy {
  readonly parts: readonly string[];
  readonly appraisers: readonly string[];
  readonly trials: readonly number[];
  /** Of all readings, in their unit. */
  readonly mean: number;
  /** The one to go by: it knows an interaction, and uses every reading. */
  readonly anova: GaugeAnova & GaugeAssessment;
  readonly averageRange: GaugeRanges & GaugeAssessment;
  /** What a reader must know before using the figures. */
  readonly cautions: readonly string[];
}

const POOL_ABOVE = 0.25;

/**
 * The crossed study: every appraiser reads every part in every trial, at least two of each. Readings may come in any order;
 * sums are exact, so that a large common part of the readings costs no digits.
 * AIAG, Measurement Systems Analysis, 4th ed. (2010), chapter III section B.
 * Throws RangeError, naming what is missing, when the study is too small or not balanced, and when an option is out of range;
 * SyntaxError when a value is not a plain decimal.
 */
export function gaugeStudy(readings: readonly GaugeReading[], options: GaugeStudyOptions = {}): GaugeStudy {
  const layout = gaugeLayout(readings);
  demandTwo('appraiser', layout.appraisers);
  return studyOf(layout, options);
}

/**
 * The study with one appraiser: repeatability and parts, no reproducibility. Montgomery, Introduction to Statistical Quality
 * Control, Example 8.7 (from memory), estimates repeatability as R̄/d2, which is `averageRange` here.
 * Throws as `gaugeStudy` does, and RangeError when there is more than one appraiser.
 */
export function oneAppraiserStudy(readings: readonly GaugeReading[], options: GaugeStudyOptions = {}): GaugeStudy {
  const layout = gaugeLayout(readings);
  if (layout.appraisers.length > 1) throw new RangeError(`a study with one appraiser; there are ${layout.appraisers.join(', ')}`);
  return studyOf(layout, options);
}

function studyOf(layout: GaugeLayout, { tolerance = null, poolAbovePValue = POOL_ABOVE, factors }: GaugeStudyOptions): GaugeStudy {
  if (tolerance !== null && !(tolerance > 0 && tolerance < Infinity)) throw new RangeError(`not the width of a tolerance: ${tolerance}`);
  const anova = gaugeAnova(layout, poolAbovePValue);
  const ranges = gaugeRanges(layout, factors);
  const { parts, appraisers, trials, cells, unit } = layout;
  const values = cells.flat(2);
  const mean = toNumber(times(unit, ratio(values.reduce((sum, value) => sum + value), BigInt(values.length))));
  return {
    parts, appraisers, trials, mean,
    anova: { ...anova, ...assessGauge(variancesOf(anova.components), tolerance) },
    averageRange: { ...ranges, ...assessGauge(variancesOf({ ...ranges.components, interaction: null }), tolerance) },
    cautions: cautionsOf(layout, anova.components.part),
  };
}

function variancesOf({ repeatability, appraiser, interaction, part }: GaugeAnova['components']): Parameters<typeof assessGauge>[0] {
  const reproducibility = appraiser === null ? null : appraiser.variance + varianceOf(interaction);
  return { repeatability: repeatability.variance, reproducibility, part: part.variance };
}

const varianceOf = (component: VarianceComponent | null): number => component?.variance ?? 0;

function cautionsOf({ appraisers, cells }: GaugeLayout, part: VarianceComponent): string[] {
  const values = cells.flat(2);
  const cautions = ['Advisory: estimates from few readings; whoever answers for the measuring equipment decides whether it may be used.'];
  if (appraisers.length === 1) cautions.push('One appraiser: how appraisers differ is not known, and gauge R&R is repeatability alone.');
  if (values.every((value) => value === values[0])) {
    cautions.push(`All ${values.length} readings are identical: gauge and part variation are found to be 0, and the study cannot judge the gauge.`);
    return cautions;
  }
  if (cells.flat().every((cell) => cell.every((value) => value === cell[0]))) {
    cautions.push('The trials of a part by an appraiser are all identical: repeatability is found to be 0, as it is with a gauge that is too coarse.');
  }
  if (part.variance === 0) cautions.push('No part variation was found: percentages of study variation compare the gauge with parts that are alike.');
  return cautions;
}
