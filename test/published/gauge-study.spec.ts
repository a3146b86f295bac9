import { describe, expect, test } from '@jest/globals';
import {
  type GaugeReading, type GaugeStudy, type GaugeStudyOptions, gaugeStudy, meanRelativeRange, oneAppraiserStudy, rangeFactors,
  rootMeanSquareRelativeRange,
} from '#libs/spc';
import {
  accountedFor, checked, expectNumber, expectNumbers, held, inputOf, inputsOf, numberOf, spcCase, spcCases, type SpcCase, type SpcChecks, type SpcExpected,
  type SpcLeft,
} from './spc-cases.js';

const CASES = spcCases('08-measurement-systems-decision-rules.json');
const CONSTANTS = spcCases('01-control-chart-constants.json').filter(({ id }) => id === 'const-d2star');

type Figure = (study: GaugeStudy) => number;

/** Half a unit of the fourth decimal, in which forms print their factors, of the smallest of them, 0.3146. */
const FACTOR_ROUNDING = 0.00005 / 0.3146;

/** With the factors as the form prints them the computed digits are met; with those of the definitions, all that their rounding leaves. */
const ranges = (pick: Figure) => (given: SpcCase, expected: SpcExpected): void => {
  const printed = { k1: inputOf(given, 'K1'), k2: inputOf(given, 'K2'), k3: inputOf(given, 'K3') };
  expectNumber(pick(crossed(given, { factors: printed })), expected);
  const value = numberOf(expected.value);
  expect(Math.abs(pick(crossed(given)) - value)).toBeLessThanOrEqual(numberOf(expected.tolerance) + FACTOR_ROUNDING * value);
};
const rangeLists = (pick: (study: GaugeStudy) => readonly number[]) => (given: SpcCase, expected: SpcExpected): void => {
  expectNumbers(pick(crossed(given)), expected);
};
const anova = (pick: Figure, options?: GaugeStudyOptions) => (given: SpcCase, expected: SpcExpected): void => {
  expectNumber(pick(crossed(given, options)), expected);
};
const anovaLists = (pick: (study: GaugeStudy) => readonly number[], options?: GaugeStudyOptions) => (given: SpcCase, expected: SpcExpected): void => {
  expectNumbers(pick(crossed(given, options)), expected);
};

const CHECKS: SpcChecks = {
  'grr-aiag-average-range': {
    'mean range of A, B, C': rangeLists(({ averageRange }) => averageRange.meanRanges),
    'mean of mean ranges': ranges(({ averageRange }) => averageRange.meanRange),
    'means of A, B, C': rangeLists(({ averageRange }) => averageRange.appraiserMeans),
    x_diff: ranges(({ averageRange }) => averageRange.rangeOfAppraiserMeans),
    'range of part means': ranges(({ averageRange }) => averageRange.rangeOfPartMeans),
    EV: ranges(({ averageRange }) => averageRange.figures.repeatability.standardDeviation),
    AV: ranges(({ averageRange }) => averageRange.figures.reproducibility!.standardDeviation),
    GRR: ranges(({ averageRange }) => averageRange.figures.gauge.standardDeviation),
    PV: ranges(({ averageRange }) => averageRange.figures.part.standardDeviation),
    TV: ranges(({ averageRange }) => averageRange.figures.total.standardDeviation),
    'percent EV': ranges(({ averageRange }) => averageRange.figures.repeatability.percentStudyVariation!),
    'percent AV': ranges(({ averageRange }) => averageRange.figures.reproducibility!.percentStudyVariation!),
    'percent GRR': ranges(({ averageRange }) => averageRange.figures.gauge.percentStudyVariation!),
    'percent PV': ranges(({ averageRange }) => averageRange.figures.part.percentStudyVariation!),
    ndc: (given, expected) => { expect(crossed(given).averageRange.distinctCategories.count).toBe(expected.value); },
  },
  'grr-aiag-anova': {
    'sum of squares appraiser, part, appraiser x part, equipment, total':
      anovaLists((study) => [...IN_PRINT, 'total'].map((source) => rowOf(study, source).sumOfSquares)),
    'mean squares appraiser, part, appraiser x part, equipment': anovaLists((study) => IN_PRINT.map((source) => rowOf(study, source).meanSquare!)),
    'F appraiser x part': anova((study) => rowOf(study, 'interaction').f!),
    'degrees of freedom appraiser, part, interaction, equipment': (given, expected) => {
      expect(IN_PRINT.map((source) => rowOf(crossed(given), source).degreesOfFreedom)).toEqual(expected.value);
    },
    'EV (sd)': anova((study) => study.anova.figures.repeatability.standardDeviation),
    'AV (sd)': anova((study) => study.anova.figures.reproducibility!.standardDeviation),
    'GRR (sd)': anova((study) => study.anova.figures.gauge.standardDeviation),
    'PV (sd)': anova((study) => study.anova.figures.part.standardDeviation),
    'percent of total: EV, AV, GRR, PV': anovaLists(({ anova: { figures } }) =>
      [figures.repeatability, figures.reproducibility!, figures.gauge, figures.part].map(({ percentStudyVariation }) => percentStudyVariation!)),
    'p value of interaction': anova((study) => rowOf(study, 'interaction').p!),
    'pooled error mean square, 78 degrees of freedom': (given, expected) => {
      const pooled = crossed(given).anova.pooledTable!.find(({ source }) => source === 'repeatability')!;
      expectNumber(pooled.meanSquare!, expected);
      expect(pooled.degreesOfFreedom).toBe(78);
    },
    'variance components pooled: appraiser, part': anovaLists(({ anova: { components } }) =>
      [components.appraiser!.estimate, components.part.estimate]),
    'variance components without pooling: appraiser, part, interaction, equipment': anovaLists(({ anova: { components } }) =>
      [components.appraiser!, components.part, components.interaction!, components.repeatability].map(({ estimate }) => estimate),
    { poolAbovePValue: 1 }),
    'ndc unrounded, sqrt(2) PV/GRR': anova((study) => study.anova.distinctCategories.unrounded!),
  },
  'gauge-one-operator': {
    mean: (given, expected) => { expectNumber(oneOperator(given).mean, expected); },
    'mean range': (given, expected) => { expectNumber(oneOperator(given).averageRange.meanRange, expected); },
    'sigma gauge': (given, expected) => { expectNumber(oneOperator(given).averageRange.figures.gauge.standardDeviation, expected); },
    'precision to tolerance, 6 sigma': (given, expected) => {
      const { percentTolerance, standardDeviation } = oneOperator(given).averageRange.figures.gauge;
      expect(Math.abs(percentTolerance! / 100 - numberOf(expected.value))).toBeLessThanOrEqual(numberOf(expected.tolerance));
      // The example goes on with sigma as it printed it.
      const sigma = numberOf(given.expected.find(({ name }) => name === 'sigma gauge')!.value);
      expectNumber((percentTolerance! / 100) * (sigma / standardDeviation), expected);
    },
  },
};

const LEFT: SpcLeft = {
  'test/published/decision-rules.spec.ts': Object.fromEntries(CASES.filter(({ id }) => CHECKS[id] === undefined)
    .map(({ id, expected }) => [id, expected.map(({ name }) => name)])),
};

const FACTOR_CHECKS: SpcChecks = {
  'const-d2star': {
    K1: (given, expected) => { expectNumbers(counts(given, 'K1', 'trials').map((m) => rangeFactors(2, 2, m).k1), expected); },
    K2: (given, expected) => { expectNumbers(counts(given, 'K2', 'appraisers').map((m) => rangeFactors(2, m, 2).k2!), expected); },
    K3: (given, expected) => { expectNumbers(counts(given, 'K3', 'parts').map((m) => rangeFactors(m, 2, 2).k3), expected); },
  },
};

describe('gauge studies', () => {
  test('every value of every case is checked here or belongs to somebody else', () => {
    expect(accountedFor(CHECKS, LEFT)).toEqual(held(CASES));
    expect(accountedFor(FACTOR_CHECKS, {})).toEqual(held(CONSTANTS));
  });

  test.each(checked(CASES, CHECKS))('%s', (_title, given, expected) => {
    CHECKS[given.id]![expected.name]!(given, expected);
  });

  test.each(checked(CONSTANTS, FACTOR_CHECKS))('%s', (_title, given, expected) => {
    FACTOR_CHECKS[given.id]![expected.name]!(given, expected);
  });

  test('the interaction of the reference manual is pooled, and is set to 0 where pooling is forbidden', () => {
    const given = spcCase('08-measurement-systems-decision-rules.json', 'grr-aiag-anova');
    expect(crossed(given).anova.pooling).toMatchObject({
      isPooled: true, reason: 'the p value of the interaction, 0.974, is above 0.25: it is pooled into repeatability',
    });
    const { components, pooledTable } = crossed(given, { poolAbovePValue: 1 }).anova;
    expect(components.interaction).toMatchObject({ variance: 0, isSetToZero: true });
    expect(pooledTable).toBeNull();
  });
});

describe('ranges of normal values', () => {
  const given = spcCase('01-control-chart-constants.json', 'const-high-precision');
  const [d2, d3] = ['d2', 'd3'].map((name) => (given.expected.find((one) => one.name === name)!.value as unknown[]).map(numberOf));

  // Thirteen digits are given.
  test.each(inputsOf(given, 'n').map((m, index) => [m, index]))('d2 and √(d2² + d3²) of %i values', (m, index) => {
    expect(Math.abs(meanRelativeRange(m) / d2![index]! - 1)).toBeLessThan(1e-12);
    expect(Math.abs(rootMeanSquareRelativeRange(m) / Math.hypot(d2![index]!, d3![index]!) - 1)).toBeLessThan(1e-12);
  });
});

const IN_PRINT = ['appraiser', 'part', 'interaction', 'repeatability'];

const rowOf = ({ anova: { table } }: GaugeStudy, source: string): GaugeStudy['anova']['table'][number] => table.find((row) => row.source === source)!;

/** The cases hold data[appraiser][trial][part]. */
function crossed({ inputs }: SpcCase, options?: GaugeStudyOptions): GaugeStudy {
  const readings = ['A', 'B', 'C'].flatMap((appraiser) => (inputs[appraiser] as number[][]).flatMap((row, trial) =>
    row.map((value, part): GaugeReading => ({ part: String(part + 1), appraiser, trial: trial + 1, value: String(value) }))));
  expect(readings).toHaveLength(90);
  return gaugeStudy(readings, options);
}

/** The example divides by the d2 of 1.128 that tables print. */
function oneOperator(given: SpcCase): GaugeStudy {
  const printed = spcCase('01-control-chart-constants.json', 'const-printed-n2-10').expected.find(({ name }) => name === 'd2')!;
  const d2 = numberOf((printed.value as unknown[])[0]);
  const readings = (given.inputs['x'] as number[][]).flatMap((row, part) =>
    row.map((value, trial): GaugeReading => ({ part: String(part + 1), appraiser: 'only', trial: trial + 1, value: String(value) })));
  const tolerance = inputOf(given, 'usl') - inputOf(given, 'lsl');
  return oneAppraiserStudy(readings, { tolerance, factors: { ...rangeFactors(20, 1, 2), k1: 1 / d2 } });
}

const counts = ({ inputs }: SpcCase, factor: string, of: string): number[] => (inputs[factor] as Record<string, number[]>)[of]!;
