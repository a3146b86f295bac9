import { expect, test } from '@jest/globals';
import { adviceOn, trialLimits, type ChartDesign, type SeriesPoint } from '#libs/charting';
import { normalNumbers } from '../../../../test/fixtures/normal-numbers.js';
import { betterChart, type BetterChart } from './better-chart.js';
import { betterAnswer } from './chart-answers.js';

const DESIGN: ChartDesign = { chart: 'individuals', rules: ['oneBeyond3Sigma'], lambda: null, width: null, k: null, h: null, batchSize: null, alpha: null };

/** Each value is that share of the one before, and a random step. */
function followed(share: number, count: number): SeriesPoint[] {
  const [normal, values] = [normalNumbers(19), [0]];
  while (values.length < count) values.push(share * (values.at(-1) ?? NaN) + normal());
  return values.map((value) => ({ values: [value], of: null, beginsAnew: false }));
}

const better = (series: readonly SeriesPoint[]): BetterChart | null =>
  betterChart(adviceOn({ design: DESIGN, limits: trialLimits(DESIGN, series), series, coils: null, signalling: 0 }), series);

test('the chart that does better comes with what speaks against it, in the answer too', () => {
  const told = (share: number, count: number): unknown => {
    const found = better(followed(share, count));
    return found === null ? null : [found.design.chart, betterAnswer(found).warnings.map(({ code }) => code)];
  };
  expect(told(0.6, 400)).toEqual(['residuals', []]);
  expect(told(1, 400)).toEqual(['residuals', ['drift-unseen']]);
  expect(told(1, 45)).toEqual(['long-term', ['few-independent']]);
});
