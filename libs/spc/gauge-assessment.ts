/** A share of the variation in a study. Percentages are null where the total is 0, and of the tolerance where none is given. */
export interface GaugeFigure {
  /** In the squared unit of the readings. */
  readonly variance: number;
  readonly standardDeviation: number;
  /** Of the total variance; these add up to 100. */
  readonly percentContribution: number | null;
  /** Of the total standard deviation; these do not add up. */
  readonly percentStudyVariation: number | null;
  /** Six standard deviations, as a percentage of the tolerance. */
  readonly percentTolerance: number | null;
}

export interface GaugeFigures {
  /** EV: one appraiser, one part, again and again. */
  readonly repeatability: GaugeFigure;
  /** AV: between appraisers, their interaction with parts included; null in a study with one appraiser. */
  readonly reproducibility: GaugeFigure | null;
  /** GRR: both together. */
  readonly gauge: GaugeFigure;
  /** PV. */
  readonly part: GaugeFigure;
  /** TV: gauge and parts together. */
  readonly total: GaugeFigure;
}

/** How many groups of parts the gauge can tell apart. */
export interface DistinctCategories {
  /** Null where the gauge shows no variation. */
  readonly unrounded: number | null;
  /** Cut to a whole number, at least 1; null where the gauge shows no variation but the parts do, so that nothing limits it. */
  readonly count: number | null;
}

export type GaugeAcceptance = 'generally-acceptable' | 'may-be-acceptable' | 'not-acceptable' | 'undetermined';

export interface GaugeVerdict {
  readonly basis: 'study-variation' | 'tolerance';
  /** Gauge R&R as a percentage of the basis. */
  readonly percent: number | null;
  readonly acceptance: GaugeAcceptance;
  readonly words: string;
  readonly source: string;
}

export interface GaugeAssessment {
  readonly figures: GaugeFigures;
  readonly distinctCategories: DistinctCategories;
  /** By study variation, and by the tolerance where one is given. */
  readonly verdicts: readonly GaugeVerdict[];
}

/** Standard deviations that a spread is taken to span; older studies took 5.15 (from memory). */
const SPREAD = 6;

/**
 * What these variances say about the gauge; `tolerance` is the width from lower to upper limit, in the unit of the readings.
 * Distinct categories are √2 PV/GRR, where forms print 1.41.
 */
export function assessGauge(
  { repeatability, reproducibility, part }: { repeatability: number; reproducibility: number | null; part: number },
  tolerance: number | null,
): GaugeAssessment {
  const gauge = repeatability + (reproducibility ?? 0);
  const total = gauge + part;
  const figure = (variance: number): GaugeFigure => ({
    variance,
    standardDeviation: Math.sqrt(variance),
    percentContribution: total === 0 ? null : 100 * (variance / total),
    percentStudyVariation: total === 0 ? null : 100 * Math.sqrt(variance / total),
    percentTolerance: tolerance === null ? null : (100 * SPREAD * Math.sqrt(variance)) / tolerance,
  });
  const figures: GaugeFigures = {
    repeatability: figure(repeatability),
    reproducibility: reproducibility === null ? null : figure(reproducibility),
    gauge: figure(gauge), part: figure(part), total: figure(total),
  };
  const { percentStudyVariation, percentTolerance } = figures.gauge;
  const verdicts = [
    verdict('study-variation', gauge === 0 ? null : percentStudyVariation),
    ...(tolerance === null ? [] : [verdict('tolerance', gauge === 0 ? null : percentTolerance)]),
  ];
  return { figures, distinctCategories: distinctCategories(part, gauge), verdicts };
}

function distinctCategories(part: number, gauge: number): DistinctCategories {
  if (gauge === 0) return { unrounded: null, count: part === 0 ? 1 : null };
  const unrounded = Math.sqrt((2 * part) / gauge);
  return { unrounded, count: Math.max(1, Math.floor(unrounded)) };
}

const WORDS: Readonly<Record<GaugeAcceptance, string>> = {
  'generally-acceptable': 'under 10 %: the gauge is generally taken as acceptable',
  'may-be-acceptable': '10 to 30 %: the gauge may be acceptable, by what it is used for and what a better one or a wrong decision costs',
  'not-acceptable': 'over 30 %: the gauge is not taken as acceptable, and the measuring is to be improved',
  undetermined: 'no gauge variation was found, which says nothing about the gauge: it may read too coarsely, or readings were copied',
};

/** No percentage where no gauge variation was found. */
function verdict(basis: GaugeVerdict['basis'], percent: number | null): GaugeVerdict {
  const acceptance = acceptanceAt(percent);
  return { basis, percent, acceptance, words: WORDS[acceptance], source: 'common practice, no published source' };
}

function acceptanceAt(percent: number | null): GaugeAcceptance {
  if (percent === null) return 'undetermined';
  if (percent < 10) return 'generally-acceptable';
  return percent <= 30 ? 'may-be-acceptable' : 'not-acceptable';
}
