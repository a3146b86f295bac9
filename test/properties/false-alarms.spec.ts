import { describe, expect, test } from '@jest/globals';
import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import {
  adjustedPChart, adjustedUChart, betweenWithinCharts, cChart, type Counted, ewmaPoints, gChart, gChartByProbability, hotellingT2,
  individualsCharts, meanAndCovariance, meanDeviationCharts, meanRangeCharts, npChart, pChart, t2IndividualLimits, tChart, transformedTChart, uChart,
} from '#libs/spc';
import {
  BEYOND_3, beyondThree, binomial, deviationChance, geometricChance, geometricTails, poisson, rangeChance, StableDraws, transformedChance,
} from './false-alarms.reference.js';

/** Of each chart so many points, or some times as many, of a process in which nothing happens. */
const COUNT = 20_000;
interface Point {
  readonly value: number;
  readonly centre: number;
  readonly lower: number;
  readonly upper: number;
}

/** The points of a chart, and the probability of each to be beyond its limits, in the mean of all. */
interface Simulated {
  readonly points: readonly Point[];
  readonly chance: number;
}

const groups = (draws: StableDraws, n: number): number[][] => Array.from({ length: COUNT }, () => draws.normals(n).map((value) => 74 + value / 100));
/** Of independent neighbours. */
const everySecond = (points: readonly Point[]): Point[] => points.filter((_, index) => index % 2 === 0);
const meanOf = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;

/** Sizes by turns, with the probability of each count; limits lie between whole numbers, so that what is estimated moves none across one. */
const counted = (draws: StableDraws, sizes: readonly number[], of: (size: number) => number[]): Counted[] => {
  const probabilities = new Map(sizes.map((size) => [size, of(size)]));
  return Array.from({ length: COUNT }, (_, index) => sizes[index % sizes.length]!).map((size) => ({ count: draws.from(probabilities.get(size)!), of: size }));
};
const LOTS = [150, 300, 600];
const SHARE = 0.06;
const lots = (draws: StableDraws, sizes = LOTS): Counted[] => counted(draws, sizes, (n) => binomial(n, SHARE));
const lotChance = (sizes = LOTS): number => meanOf(sizes.map((n) => beyondThree(binomial(n, SHARE), n * SHARE, n * SHARE * (1 - SHARE))));
const LENGTHS = [0.5, 1, 2.5];
const RATE = 12;
const lengths = (draws: StableDraws): Counted[] => counted(draws, LENGTHS, (length) => poisson(length * RATE));
const lengthChance = (): number => meanOf(LENGTHS.map((length) => beyondThree(poisson(length * RATE), length * RATE, length * RATE)));
/** Large samples of a share that moves from one to the next; of so many items the count is normal. */
const restless = (draws: StableDraws): Counted[] => Array.from({ length: COUNT }, () => {
  const share = 0.1 + 0.01 * draws.normal();
  return { count: Math.round(10_000 * share + Math.sqrt(10_000 * share * (1 - share)) * draws.normal()), of: 10_000 };
});
const GAP = 0.0005;
const gaps = (draws: StableDraws): number[] => Array.from({ length: COUNT }, () => draws.geometric(GAP));
const waits = (draws: StableDraws): number[] => Array.from({ length: 2 * COUNT }, () => 300 * draws.exponential());

function t2(draws: StableDraws): Simulated {
  const rows = Array.from({ length: COUNT }, () => {
    const [a, b] = [draws.normal(), draws.normal()];
    return [5 + a, 80 + 3 * a + b];
  });
  const [model, chance] = [meanAndCovariance(rows), 0.005];
  const upper = t2IndividualLimits(COUNT, { characteristics: 2, alpha: chance }).phase1;
  return { chance, points: rows.map((row) => ({ value: hotellingT2(row, model), centre: 0, lower: 0, upper })) };
}

/** Blocks of so many values that start from the target, and of them the points at some places. */
function averages(draws: StableDraws): Record<string, Simulated> {
  const [block, width] = [8, 2.7];
  const beginsAnew = Array.from({ length: COUNT }, (_, index) => index * block + 1);
  const points = ewmaPoints(draws.normals(block * COUNT), { target: 0, sigma: 1, lambda: 0.2, width }, { beginsAnew });
  const chance = 2 * normalCdf(-width, 0, 1);
  const at = (place: number): Simulated => ({ chance, points: points.filter((_, index) => index % block === place - 1) });
  return { first: at(1), third: at(3), eighth: at(8) };
}

function ofSubgroups(draws: StableDraws, n: number): Record<string, Simulated> {
  const values = groups(draws, n);
  const [byRanges, byDeviations] = [meanRangeCharts(values), meanDeviationCharts(values)];
  return {
    'means by ranges': { points: byRanges.means, chance: BEYOND_3 }, ranges: { points: byRanges.spreads, chance: rangeChance(n) },
    'means by deviations': { points: byDeviations.means, chance: BEYOND_3 }, deviations: { points: byDeviations.spreads, chance: deviationChance(n) },
  };
}

/** Coils that differ from each other by more than what varies within them. */
function coils(draws: StableDraws): Record<string, Simulated> {
  const charts = betweenWithinCharts(Array.from({ length: 2 * COUNT }, () => {
    const level = 2 * draws.normal();
    return draws.normals(4).map((value) => level + value);
  }));
  return {
    means: { points: charts.means, chance: BEYOND_3 }, 'moving ranges': { points: everySecond(charts.movingRanges), chance: rangeChance(2) },
    deviations: { points: charts.deviations, chance: deviationChance(4) },
  };
}

function individuals(draws: StableDraws): Record<string, Simulated> {
  const { values, movingRanges } = individualsCharts(draws.normals(2 * COUNT));
  return { values: { points: values, chance: BEYOND_3 }, 'moving ranges': { points: everySecond(movingRanges), chance: rangeChance(2) } };
}

const CHARTS: Readonly<Record<string, (draws: StableDraws) => Readonly<Record<string, Simulated>>>> = {
  // Ranges of 5 are skewed and have no lower limit; those of 8 have one.
  'subgroups of 5': (draws) => ofSubgroups(draws, 5),
  'subgroups of 8': (draws) => ofSubgroups(draws, 8),
  individuals,
  'coils, between and within': coils,
  'moving average': averages,
  'shares of unequal samples': (draws) => {
    const items = lots(draws);
    return { p: { points: pChart(items).points, chance: lotChance() }, 'p′, where nothing is to adjust': { points: adjustedPChart(items).points, chance: lotChance() } };
  },
  'numbers of faulty items': (draws) => ({ np: { points: npChart(lots(draws, [400])).points, chance: lotChance([400]) } }),
  'faults in equal lengths': (draws) => ({
    c: { points: cChart(counted(draws, [1], () => poisson(20)).map(({ count }) => count)).points, chance: beyondThree(poisson(20), 20, 20) },
  }),
  'faults in unequal lengths': (draws) => {
    const items = lengths(draws);
    return { u: { points: uChart(items).points, chance: lengthChance() }, 'u′, where nothing is to adjust': { points: adjustedUChart(items).points, chance: lengthChance() } };
  },
  'counts of a process that is never quite the same': (draws) => {
    const items = restless(draws);
    return { 'p′': { points: adjustedPChart(items).points, chance: BEYOND_3 }, 'u′': { points: adjustedUChart(items).points, chance: BEYOND_3 } };
  },
  'lengths between events of a constant rate': (draws) => {
    const lengthsBetween = waits(draws);
    return {
      t: { points: tChart(lengthsBetween).points, chance: BEYOND_3 },
      'by their power': { points: transformedTChart(lengthsBetween).transformed, chance: transformedChance() },
    };
  },
  'good items between faulty ones': (draws) => {
    const between = gaps(draws);
    return { g: { points: gChart(between).points, chance: geometricChance(GAP) }, 'by probability': { points: gChartByProbability(between).points, chance: geometricTails(GAP) } };
  },
  'two characteristics together': (draws) => ({ 'T²': t2(draws) }),
};

/** How many standard errors the share beyond is from its chance, limits taken so many times as far from the centre. */
function errorsOff({ points, chance }: Simulated, stretch = 1): number {
  const beyond = points.filter(({ value, centre, lower, upper }) =>
    value < centre - stretch * (centre - lower) || value > centre + stretch * (upper - centre)).length;
  return (beyond / points.length - chance) / Math.sqrt((chance * (1 - chance)) / points.length);
}

describe('of a stable process, points beyond the limits are as many as theory says', () => {
  test.each(Object.entries(CHARTS).map(([what, charts], index) => [what, charts, 100 + index] as const))('%s', (_what, charts, seed) => {
    for (const [chart, simulated] of Object.entries(charts(new StableDraws(seed)))) {
      const [asTheyAre, narrower, wider] = [1, 0.8, 1.2].map((stretch) => errorsOff(simulated, stretch));
      expect([chart, Math.abs(asTheyAre!) < 4]).toEqual([chart, true]);
      // Limits a fifth too narrow or too wide would not pass.
      expect([chart, narrower! > 4, wider! < -4]).toEqual([chart, true, true]);
    }
  });

  test('a chart of shares that does not adjust for a restless process cries wolf', () => {
    expect(errorsOff({ points: pChart(restless(new StableDraws(200))).points, chance: BEYOND_3 })).toBeGreaterThan(700);
  });
});
