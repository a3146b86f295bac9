import { gaugeStudy, oneAppraiserStudy, type GaugeAssessment, type GaugeFigure, type GaugeStudy } from '#libs/spc';
import type { GaugeMethodAnswer, GaugeResultAnswer, GaugeShare } from './gauge-study.dto.js';
import type { GaugeStudyVersion } from './gauge-study.entity.js';

/** The study of some readings: with several appraisers or with one. Throws as `gaugeStudy` does. */
export function studied({ readings, tolerance }: Pick<GaugeStudyVersion, 'readings' | 'tolerance'>): GaugeStudy {
  const isOfOne = new Set(readings.map(({ appraiser }) => appraiser)).size === 1;
  return (isOfOne ? oneAppraiserStudy : gaugeStudy)(readings, { tolerance: tolerance === null ? null : Number(tolerance) });
}

export function gaugeResult(row: GaugeStudyVersion): GaugeResultAnswer {
  const { parts, appraisers, anova, averageRange, cautions } = studied(row);
  const { table, pooling } = anova;
  return {
    unit: row.unit, parts: [...parts], appraisers: [...appraisers],
    table: table.map(({ source, sumOfSquares, degreesOfFreedom, meanSquare, f, p }) => ({ source, sumOfSquares, degreesOfFreedom, meanSquare, f, p })),
    isPooled: pooling?.isPooled === true, pooling: pooling?.reason ?? null, anova: methodAnswer(anova), averageRange: methodAnswer(averageRange), cautions: [...cautions],
  };
}

function methodAnswer({ figures, distinctCategories, verdicts }: GaugeAssessment): GaugeMethodAnswer {
  const { repeatability, reproducibility, gauge, part, total } = figures;
  const all = { repeatability, ...(reproducibility === null ? {} : { reproducibility }), gauge, part, total };
  return {
    shares: Object.entries(all).map(([of, figure]) => share(of, figure)), distinctCategories: distinctCategories.count,
    verdicts: verdicts.map(({ basis, words, source }) => ({ basis, words, source })),
  };
}

const share = (of: string, { standardDeviation, percentContribution, percentStudyVariation, percentTolerance }: GaugeFigure): GaugeShare =>
  ({ of, standardDeviation, percentContribution, percentStudyVariation, percentTolerance });
