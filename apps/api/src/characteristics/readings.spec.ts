import { expect, test } from '@jest/globals';
import { CounterReading } from '../line/counter-reading.entity.js';
import { chartValue, conversionTo } from './chart-value.js';
import { readingAt } from './characteristics.factory.js';
import { statisticOf } from './sources/channel.source.js';
import { ratioIn, type Counted } from './sources/counter-ratio.source.js';
import { wholeSubgroups } from './whole-subgroups.js';

test('a value is a plain number in the unit of the chart or one of its dimension; a scale compares with itself alone', () => {
  expect([chartValue('0.20', 'in', 'mm'), chartValue('-3', 'mm', 'mm'), chartValue('221', 'HV10', 'HV10')]).toEqual([5.08, -3, 221]);
  expect([chartValue('≥ 100', '%', '%'), chartValue('1,5', 'mm', 'mm'), chartValue('20', 'HRC', 'HV10'), chartValue('1', 'mm', 'MPa')].map((one) => typeof one)).toEqual(['string', 'string', 'string', 'string']);
  expect(conversionTo('HV10', 'HRC')).toBe('it is in HRC, and the chart is in HV10');
});

test('subgroups are of one thing each, and what is left of it is told', () => {
  const of = (label: string, ...values: number[]) => values.map((value) => readingAt(0, value, { label }));
  const { readings, leftOut } = wholeSubgroups([...of('S-1', 1, 2, 3), ...of('S-2', 4), ...of('S-3', 5, 6)], 2, 'splice', []);
  expect(readings.map(({ values }) => values[0])).toEqual([1, 2, 5, 6]);
  expect(leftOut.map(({ because }) => because)).toEqual(['too few readings of splice S-1 for one more subgroup of 2', 'too few readings of splice S-2 for one more subgroup of 2']);
});

test('a statistic is of values that were read; without enough of them there is none', () => {
  const summary = { n: 3, mean: 2, squares: 8, least: { value: 0, address: 1 }, greatest: null };
  const of = (changes: object, statistic: Parameters<typeof statisticOf>[1]): number => statisticOf({ ...summary, ...changes } as Parameters<typeof statisticOf>[0], statistic);
  expect([of({}, 'mean'), of({}, 'least'), of({}, 'spread')]).toEqual([2, 0, 2]);
  expect([of({}, 'greatest'), of({ n: 0 }, 'mean'), of({ n: 1 }, 'spread')]).toEqual([NaN, NaN, NaN]);
});

test('a ratio of counters is from the first to the last reading in a window, within one period of each', () => {
  const counted = (atMm: number, measuredMm: number, againstMm: number, periods = 'p q'): Counted =>
    ({ row: Object.assign(new CounterReading(), { id: `c${atMm}`, version: 1, counter: 'encoder 2', reading: String(measuredMm) }), atMm, measuredMm, againstMm, periods });
  const all = [counted(0, 0, 0), counted(10_000, 10_000, 10_000), counted(15_000, 14_500, 15_000), counted(20_000, 19_800, 20_000), counted(30_000, 100, 30_000, 'r q'), counted(40_000, 100, 30_000, 'r q')];
  const within = (fromMm: number, toMm: number): unknown => {
    const reading = ratioIn(all, { fromMm, toMm });
    return 'values' in reading ? [reading.values[0], ...reading.records.map(({ id }) => id)] : reading.because;
  };
  expect(within(10_000, 20_000)).toEqual([0.98, 'c10000', 'c20000']);
  expect([within(1, 9_999), within(9_000, 11_000), within(20_000, 30_000), within(30_000, 40_000)]).toEqual([
    'fewer than two readings that both counters have', 'fewer than two readings that both counters have', 'a counter began another period within it', 'no pipe by the counter that it is held against',
  ]);
});
