import { describe, expect, test } from '@jest/globals';
import {
  adjustedPChart, adjustedUChart, cChart, gChart, gChartByProbability, individualsCharts, npChart, pChart, pointsBeyond, ratePoints, standardised, tChart,
  transformedTChart, uChart,
} from '#libs/spc';

const ITEMS = [{ count: 3, of: 100 }, { count: 8, of: 200 }, { count: 2, of: 50 }, { count: 6, of: 150 }];

describe('charts of counts', () => {
  test('limits of each point by its own opportunity; per metre or per thousand metres the same', () => {
    const perMetre = uChart(ITEMS);
    const perThousand = uChart(ITEMS.map(({ count, of }) => ({ count, of: of / 1000 })));
    perMetre.points.forEach(({ upper }, index) => { expect(1000 * upper).toBeCloseTo(perThousand.points[index]!.upper, 9); });
    expect(perMetre.points[2]!.upper).toBeGreaterThan(perMetre.points[1]!.upper);
  });

  test('a share is within 0 and 1, and its chart of numbers within 0 and n', () => {
    const items = [{ count: 1, of: 2 }, { count: 2, of: 2 }, { count: 40, of: 50 }];
    expect(pChart(items).points.map(({ upper }) => upper)).toEqual([1, 1, expect.closeTo(43 / 54 + 3 * Math.sqrt((43 * 11) / 54 ** 2 / 50), 12)]);
    expect(npChart(items).points[0]).toMatchObject({ value: 1, upper: 2, lower: 0 });
  });

  test('left out: charted, with its reason, and not counted', () => {
    const { rate, points } = uChart([...ITEMS, { count: 90, of: 100 }], [{ point: 5, reason: 'splice' }]);
    expect(rate).toBe(uChart(ITEMS).rate);
    expect(points[4]!.leftOut).toBe('splice');
    expect(pointsBeyond(points)).toEqual([5]);
  });

  test('adjusted limits are those of the counts times σz, by moving ranges of z', () => {
    const plain = uChart(ITEMS);
    const { sigmaZ, points, rate } = adjustedUChart(ITEMS);
    expect(sigmaZ).toBe(individualsCharts(plain.points.map(({ value, centre, standardError }) => (value - centre) / standardError)).sigma);
    points.forEach(({ standardError }, index) => { expect(standardError).toBeCloseTo(sigmaZ * plain.points[index]!.standardError, 12); });
    expect(ratePoints('units', ITEMS, rate, sigmaZ)).toEqual(points);
  });

  test('σz knows of no step from one stretch to the next', () => {
    const stretch = [3, 5, 4, 6, 4, 5];
    const items = [...stretch, ...stretch.map((count) => count + 60)].map((count) => ({ count, of: 200 }));
    for (const chart of [adjustedPChart, adjustedUChart]) {
      const standard = standardised((chart === adjustedPChart ? pChart : uChart)(items).points);
      expect(chart(items, { beginsAnew: [7] }).sigmaZ).toBe(individualsCharts(standard, { beginsAnew: [7] }).sigma);
      expect(chart(items).sigmaZ).toBeGreaterThan(3 * chart(items, { beginsAnew: [7] }).sigmaZ);
    }
    expect(() => adjustedUChart(ITEMS, { beginsAnew: [2, 3, 4] })).toThrow(new RangeError('no moving range is left to take limits from'));
  });

  test('what cannot be is refused', () => {
    expect(() => pChart([{ count: 3, of: 2 }])).toThrow(new RangeError('not a number of faulty items of 2: 3'));
    expect(() => pChart([{ count: 1, of: 2.5 }])).toThrow(new RangeError('not a number of items: 2.5'));
    expect(() => pChart([{ count: 0, of: 5 }])).toThrow(new RangeError('the counts show no spread to take limits from'));
    expect(() => npChart([{ count: 5, of: 5 }])).toThrow(RangeError);
    expect(() => cChart([0, 0])).toThrow(RangeError);
    expect(() => cChart([1.5])).toThrow(new RangeError('not a count: 1.5'));
    expect(() => uChart([{ count: 1, of: 0 }])).toThrow(new RangeError('not an opportunity: 0'));
    expect(() => adjustedPChart([{ count: 1, of: 5 }, { count: 1, of: 5 }])).toThrow(RangeError);
  });
});

describe('charts of gaps between rare events', () => {
  const TAIL = 0.001349898031630095;

  test('t: outside its limits lie 0.00135 on either side, by the exponential distribution itself', () => {
    const { mean, points } = tChart([10, 30, 20, 40]);
    expect(mean).toBe(25);
    expect(1 - Math.exp(-points[0]!.lower / 25)).toBeCloseTo(TAIL, 14);
    expect(Math.exp(-points[0]!.upper / 25)).toBeCloseTo(TAIL, 14);
    expect(Math.exp(-points[0]!.centre / 25)).toBeCloseTo(0.5, 14);
    expect(pointsBeyond(tChart([10, 30, 20, 400], [{ point: 4, reason: 'other coil' }]).points)).toEqual([4]);
  });

  test('t by the power 1/3.6: an individuals chart, told in the unit of the gaps', () => {
    const gaps = [286, 948, 536, 124, 816, 729, 4];
    const { transformed, points } = transformedTChart(gaps);
    expect(transformed).toEqual(individualsCharts(gaps.map((gap) => gap ** (1 / 3.6))).values);
    points.forEach(({ value, upper, lower }, index) => {
      expect(value).toBe(gaps[index]);
      expect(upper ** (1 / 3.6)).toBeCloseTo(transformed[index]!.upper, 10);
      expect(lower ** (1 / 3.6)).toBeCloseTo(Math.max(transformed[index]!.lower, 0), 10);
    });
  });

  test('g: mean and three standard deviations of the geometric distribution', () => {
    const { mean, points } = gChart([0, 8, 4]);
    expect(mean).toBe(4);
    expect(points[0]).toMatchObject({ centre: 4, lower: 0, standardError: Math.sqrt(20), upper: 4 + 3 * Math.sqrt(20) });
  });

  test.each([0.5, 4, 3000])('g by probability, mean %p: the tightest whole limits with no more than 0.00135 beyond them', (mean) => {
    const { centre, lower, upper } = gChartByProbability([2 * mean, 0]).points[0]!;
    const below = (k: number): number => 1 - (mean / (1 + mean)) ** k;
    expect(below(lower)).toBeLessThanOrEqual(TAIL);
    expect(below(lower + 1)).toBeGreaterThan(TAIL);
    expect(1 - below(upper + 1)).toBeLessThanOrEqual(TAIL);
    expect(1 - below(upper)).toBeGreaterThan(TAIL);
    expect(below(centre + 1)).toBeGreaterThanOrEqual(0.5);
    expect(below(centre)).toBeLessThan(0.5);
  });

  test('what cannot be is refused', () => {
    expect(() => tChart([5, 0])).toThrow(new RangeError('not a gap: 0'));
    expect(() => transformedTChart([5, -1])).toThrow(RangeError);
    expect(() => gChart([1.5])).toThrow(new RangeError('not a number of units between faults: 1.5'));
    expect(() => gChart([0, 0])).toThrow(new RangeError('nothing lies between the faults: there is no rate to take limits from'));
    expect(() => tChart([])).toThrow(new RangeError('no point is left to take limits from'));
  });
});
