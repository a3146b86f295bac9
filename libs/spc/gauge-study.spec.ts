import { describe, expect, test } from '@jest/globals';
import { type GaugeReading, type GaugeStudyOptions, gaugeStudy, oneAppraiserStudy, rangeFactors } from '#libs/spc';

/** `rows[part][appraiser]` is the trials, apart by a blank. */
function readings(rows: readonly (readonly string[])[]): GaugeReading[] {
  return rows.flatMap((row, part) => row.flatMap((cell, appraiser) => cell.split(' ').map((value, trial) =>
    ({ part: `P${part + 1}`, appraiser: 'ABC'.charAt(appraiser), trial: trial + 1, value }))));
}

const SMALL = readings([['1 3', '2 4'], ['5 5', '7 9'], ['9 11', '10 10']]);

describe('gaugeStudy', () => {
  test('a small study, computed by hand', () => {
    const { anova, mean, parts, appraisers, trials } = gaugeStudy(SMALL, { poolAbovePValue: 1 });
    expect({ mean, parts, appraisers, trials }).toEqual({ mean: 76 / 12, parts: ['P1', 'P2', 'P3'], appraisers: ['A', 'B'], trials: [1, 2] });
    // Part totals 10, 26, 40; appraiser totals 34, 42; cell totals 4 6, 10 16, 20 20; sum of squares 612.
    const table = anova.table.map(({ source, sumOfSquares, degreesOfFreedom }) => [source, sumOfSquares, degreesOfFreedom]);
    const common = 76 ** 2 / 12;
    const expected = [
      ['part', (100 + 676 + 1600) / 4 - common, 2], ['appraiser', (34 ** 2 + 42 ** 2) / 6 - common, 1],
      ['interaction', 1208 / 2 - common - (2376 / 4 - common) - (2920 / 6 - common), 2],
      ['repeatability', 612 - 604, 6], ['total', 612 - common, 11],
    ] as const;
    table.forEach(([source, sum, degrees], index) => {
      expect([source, degrees]).toEqual([expected[index]![0], expected[index]![2]]);
      expect(sum).toBeCloseTo(expected[index]![1], 11);
    });
    expect(anova.components.repeatability.variance).toBeCloseTo(8 / 6, 12);
  });

  test('the order of the readings does not matter', () => {
    const order = gaugeStudy([...SMALL].reverse());
    expect(order.parts).toEqual(['P3', 'P2', 'P1']);
    expect(order.anova).toEqual(gaugeStudy(SMALL).anova);
  });

  test('an interaction whose p value is not above the level is kept, and parts and appraisers are tested against it', () => {
    const crossedOver = gaugeStudy(readings([['1 2', '9 8'], ['9 8', '1 2'], ['5 6', '5 6']]));
    expect(crossedOver.anova.pooling).toMatchObject({ isPooled: false, poolAbovePValue: 0.25 });
    expect(crossedOver.anova.pooling!.reason)
      .toMatch(/^the p value of the interaction, [\d.e-]+, is not above 0.25: it is kept, as part of reproducibility$/);
    expect(crossedOver.anova.table.map(({ testedAgainst }) => testedAgainst)).toEqual(['interaction', 'interaction', 'repeatability', null, null]);
    const { appraiser, interaction } = crossedOver.anova.components;
    expect(appraiser).toMatchObject({ variance: 0, isSetToZero: true });
    expect(appraiser!.estimate).toBeLessThan(0);
    expect(appraiser!.note).toMatch(/^the mean square of appraisers is below that of the interaction/);
    expect(crossedOver.anova.figures.reproducibility!.variance).toBe(interaction!.variance);
  });

  test('pooled, the table in use has no interaction, and tests against the pooled repeatability', () => {
    const { table, pooledTable, components } = gaugeStudy(SMALL, { poolAbovePValue: 0 }).anova;
    const [interaction, repeatability] = ['interaction', 'repeatability'].map((name) => table.find(({ source }) => source === name)!);
    expect(pooledTable!.map(({ source, testedAgainst }) => [source, testedAgainst])).toEqual([
      ['part', 'repeatability'], ['appraiser', 'repeatability'], ['repeatability', null], ['total', null],
    ]);
    expect(pooledTable![2]!.sumOfSquares).toBeCloseTo(interaction!.sumOfSquares + repeatability!.sumOfSquares, 12);
    expect(pooledTable![2]!.degreesOfFreedom).toBe(8);
    expect(components.interaction).toBeNull();
  });

  test('without repeatability there is no test of the interaction: it is pooled when it is 0, and kept otherwise', () => {
    const additive = gaugeStudy(readings([['0.1 0.1', '0.3 0.3'], ['0.7 0.7', '0.9 0.9']])).anova;
    expect(additive.pooling).toMatchObject({ isPooled: true, p: null });
    expect(additive.pooling!.reason).toMatch(/nothing to test the interaction against, and the interaction is 0 too: it is pooled/);
    expect(additive.figures.reproducibility!.variance).toBeCloseTo(0.02, 15);
    const not = gaugeStudy(readings([['0.1 0.1', '0.3 0.3'], ['0.7 0.7', '0.8 0.8']]));
    expect(not.anova.pooling).toMatchObject({ isPooled: false, p: null });
    expect(not.anova.pooling!.reason).toMatch(/the interaction is above 0: it is kept/);
    expect(not.cautions).toContainEqual(expect.stringMatching(/^The trials of a part by an appraiser are all identical/));
  });

  test('identical readings give no gauge variation, and say that nothing is shown', () => {
    const { anova, averageRange, cautions } = gaugeStudy(readings([['5.02 5.020', '5.02 5.02'], ['5.02 5.02', '5.02 5.02']]), { tolerance: 0.3 });
    for (const { figures, distinctCategories, verdicts } of [anova, averageRange]) {
      expect(figures.gauge).toEqual({
        variance: 0, standardDeviation: 0, percentContribution: null, percentStudyVariation: null, percentTolerance: 0,
      });
      expect(distinctCategories).toEqual({ unrounded: null, count: 1 });
      expect(verdicts.map(({ basis, percent, acceptance }) => [basis, percent, acceptance])).toEqual([
        ['study-variation', null, 'undetermined'], ['tolerance', null, 'undetermined'],
      ]);
      expect(verdicts[0]!.words).toMatch(/^no gauge variation was found/);
    }
    expect(cautions).toContain('All 8 readings are identical: gauge and part variation are found to be 0, and the study cannot judge the gauge.');
  });

  test('parts that differ while the gauge shows nothing are told apart without limit', () => {
    const { anova } = gaugeStudy(readings([['1 1', '1 1'], ['2 2', '2 2']]));
    expect(anova.distinctCategories).toEqual({ unrounded: null, count: null });
    expect(anova.figures.gauge.percentStudyVariation).toBe(0);
    expect(anova.verdicts[0]!.acceptance).toBe('undetermined');
  });

  test('appraisers who differ by less than repeatability have no variance by ranges either', () => {
    const { components, figures } = gaugeStudy(readings([['1 3', '3 1'], ['5 7', '7 5']])).averageRange;
    expect(components.appraiser!.estimate).toBeLessThan(0);
    expect(components.appraiser).toMatchObject({ variance: 0, isSetToZero: true, note: expect.stringMatching(/^the appraisers differ by less/) });
    expect(figures.reproducibility!.variance).toBe(0);
  });

  test('parts that are alike are warned of, and make one category', () => {
    const { anova, cautions } = gaugeStudy(readings([['1 3', '2 4'], ['3 1', '2 4']]));
    expect(anova.components.part).toMatchObject({ variance: 0 });
    expect(anova.distinctCategories.count).toBe(1);
    expect(cautions).toContainEqual(expect.stringMatching(/^No part variation was found/));
  });
});

describe('verdicts', () => {
  // Repeatability has a variance of 0.5 by analysis of variance, and there is nothing else: gauge R&R is 6√0.5 wide.
  const wide = 6 * Math.sqrt(0.5);
  const study = (tolerance: number): ReturnType<typeof gaugeStudy> =>
    gaugeStudy(readings([['10 11', '10 11'], ['510 511', '510 511']]), { tolerance, poolAbovePValue: 1 });

  test.each([
    [11, 'generally-acceptable', 'under 10 %'], [9, 'may-be-acceptable', '10 to 30 %'], [3.4, 'may-be-acceptable', '10 to 30 %'],
    [3.3, 'not-acceptable', 'over 30 %'],
  ])('a tolerance %f times as wide: %s', (times, acceptance, words) => {
    const [byStudy, byTolerance] = study(times * wide).anova.verdicts;
    expect(byTolerance).toMatchObject({ basis: 'tolerance', acceptance, source: 'common practice, no published source' });
    expect(byTolerance!.percent).toBeCloseTo(100 / times, 12);
    expect(byTolerance!.words.startsWith(words)).toBe(true);
    expect(byStudy).toMatchObject({ basis: 'study-variation', acceptance: 'generally-acceptable' });
  });

  test('without a tolerance there is none about it', () => {
    const { verdicts, figures } = gaugeStudy(SMALL).anova;
    expect(verdicts.map(({ basis }) => basis)).toEqual(['study-variation']);
    expect(figures.gauge.percentTolerance).toBeNull();
  });
});

describe('what is no study', () => {
  const refused = (given: readonly GaugeReading[], options?: GaugeStudyOptions): (() => unknown) => () => gaugeStudy(given, options);

  test('too few parts, appraisers or trials', () => {
    expect(refused([])).toThrow(new RangeError('a gauge study takes at least 2 parts; it has 0'));
    expect(refused(readings([['1 2', '1 2']]))).toThrow(new RangeError('a gauge study takes at least 2 parts; it has 1 (P1)'));
    expect(refused(readings([['1 2'], ['1 2']]))).toThrow(new RangeError('a gauge study takes at least 2 appraisers; it has 1 (A)'));
    expect(refused(readings([['1', '1'], ['1', '2']]))).toThrow(new RangeError('a gauge study takes at least 2 trials; it has 1 (1)'));
  });

  test('missing readings are named, the first five of them', () => {
    expect(refused(SMALL.filter((_, index) => index !== 5)))
      .toThrow(new RangeError('the study is not balanced; missing: part P2, appraiser A, trial 2'));
    const gaps = SMALL.filter(({ part, trial }) => part !== 'P1' && trial === 1);
    expect(refused([...gaps, ...readings([['1 2 3', '1 2 3']])])).toThrow(new RangeError(
      'the study is not balanced; missing: part P2, appraiser A, trial 2; part P2, appraiser A, trial 3; part P2, appraiser B, trial 2; ' +
      'part P2, appraiser B, trial 3; part P3, appraiser A, trial 2; and 3 more',
    ));
  });

  test('a reading given twice, a trial that is not counted, a value that is no decimal', () => {
    expect(refused([...SMALL, SMALL[3]!])).toThrow(new RangeError('a reading is given twice: part P1, appraiser B, trial 2'));
    expect(refused([{ ...SMALL[0]!, trial: 0 }, ...SMALL.slice(1)])).toThrow(new RangeError('not a trial counted from 1: 0'));
    expect(refused([{ ...SMALL[0]!, value: '5,02' }, ...SMALL.slice(1)])).toThrow(SyntaxError);
  });

  test('options out of range', () => {
    expect(refused(SMALL, { tolerance: 0 })).toThrow(new RangeError('not the width of a tolerance: 0'));
    expect(refused(SMALL, { poolAbovePValue: 25 })).toThrow(new RangeError('the level of pooling is not within 0 and 1: 25'));
    expect(refused(SMALL, { factors: { ...rangeFactors(3, 2, 2), k1: 0 } })).toThrow(new RangeError('not a factor for ranges: 0'));
    expect(refused(SMALL, { factors: { ...rangeFactors(3, 2, 2), k2: null } })).toThrow(new RangeError('not a factor for ranges: null'));
  });
});

describe('oneAppraiserStudy', () => {
  test('repeatability is all there is of the gauge', () => {
    const { anova, averageRange, cautions } = oneAppraiserStudy(readings([['1 3'], ['5 5'], ['9 11']]));
    const degrees = anova.table.map(({ source, degreesOfFreedom }) => [source, degreesOfFreedom]);
    expect(degrees).toEqual([['part', 2], ['repeatability', 3], ['total', 5]]);
    expect(anova.components).toMatchObject({ appraiser: null, interaction: null });
    expect([anova.pooling, anova.pooledTable]).toEqual([null, null]);
    expect([anova, averageRange].map(({ figures }) => figures.reproducibility)).toEqual([null, null]);
    expect(anova.figures.gauge).toEqual(anova.figures.repeatability);
    expect(anova.figures.repeatability.variance).toBeCloseTo(4 / 3, 14);
    expect(averageRange.factors.k2).toBeNull();
    expect(cautions).toContainEqual(expect.stringMatching(/^One appraiser/));
  });

  test('more than one appraiser is refused', () => {
    expect(() => oneAppraiserStudy(SMALL)).toThrow(new RangeError('a study with one appraiser; there are A, B'));
  });
});
