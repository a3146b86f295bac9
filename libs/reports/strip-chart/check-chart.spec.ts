import { expect, test } from '@jest/globals';
import type { ChartAxis, ChartTrack, StripChart } from './chart-data.js';
import { checkStripChart } from './check-chart.js';
import { fullStripChart, oneColumn, oneStripChart, oneTrack, trackMark } from './strip-chart.factory.js';

const depth = { datum: 'rotary table', uncertaintyMm: 5 };
const withAxis = (axis: Partial<ChartAxis>): StripChart => oneStripChart({ axis: { ...oneStripChart().axis, ...axis } });
const withTrack = (track: Partial<ChartTrack>): StripChart => oneStripChart({ tracks: [oneTrack(), oneTrack(track)] });
const second = { quantity: 'footage' as const, pieces: [] };

test.each([
  [oneStripChart({ titles: [] }), 'chart.titles are not 1 to 4'],
  [oneStripChart({ titles: [' '] }), 'chart.titles[0] is blank'],
  [withAxis({ fromMm: 5, toMm: 5 }), 'chart.axis has no length'],
  [withAxis({ fromMm: 6, toMm: 5 }), 'chart.axis ends before it starts'],
  [withAxis({ fromMm: 0.5 }), 'chart.axis.fromMm is not a whole number of millimetres'],
  [withAxis({ quantity: 'depth' as never }), 'chart.axis.quantity is none of: footage, outer-wall depth, inner-wall depth'],
  [withAxis({ quantity: 'inner-wall depth' }), 'chart.axis.depth is missing: no depth is drawn without its datum and uncertainty'],
  [withAxis({ second: { ...second, quantity: 'outer-wall depth' } }), 'chart.axis.depth is missing: no depth is drawn without its datum and uncertainty'],
  [withAxis({ depth }), 'chart.axis.depth is given, but neither axis is a depth'],
  [withAxis({ quantity: 'outer-wall depth', depth: { ...depth, datum: ' ' } }), 'chart.axis.depth.datum is blank'],
  [withAxis({ quantity: 'outer-wall depth', depth: { ...depth, uncertaintyMm: -1 } }), 'chart.axis.depth.uncertaintyMm is negative'],
  [withAxis({ unsure: [{ fromMm: 0, toMm: 5, words: '' }] }), 'chart.axis.unsure[0].words is blank'],
  [withAxis({ second: { ...second, pieces: [{ fromMm: 0, toMm: 9, startMm: 0, endMm: 9 }, { fromMm: 8, toMm: 20, startMm: 9, endMm: 20 }] } }), 'chart.axis.second.pieces has two that overlap at 8 mm'],
  [oneStripChart({ tracks: [] }), 'chart.tracks are not 1 to 12'],
  [oneStripChart({ tracks: Array.from({ length: 13 }, () => oneTrack()) }), 'chart.tracks are not 1 to 12'],
  [oneStripChart({ marks: [{ kind: 'weld' as never, fromMm: 0, toMm: 1, label: '' }] }), 'chart.marks[0].kind is none of: re-join, cut-out, splice, stop, reversal, set-up change'],
  [withTrack({ channel: '' }), 'chart.tracks[1].channel is blank'],
  [withTrack({ threshold: { level: '4,5', sense: 'above' } }), 'chart.tracks[1].threshold.level is not a decimal number'],
  [withTrack({ threshold: { level: '4.5', sense: 'over' as never } }), 'chart.tracks[1].threshold.sense is none of: above, below'],
  [withTrack({ columns: [] }), 'chart.tracks[1].columns are not 1 to 4096'],
  [withTrack({ columns: [oneColumn(1, 2), oneColumn(1, Infinity)] }), 'chart.tracks[1].columns[1] has a value that is not finite'],
  [withTrack({ columns: [oneColumn(1, 2, NaN)] }), 'chart.tracks[1].columns[0] has a value that is not finite'],
  [withTrack({ columns: [oneColumn(3, 2)] }), 'chart.tracks[1].columns[0] has a least value above its greatest'],
  [withTrack({ coverage: [{ fromMm: 0, toMm: 9, state: 'confirmed' }, { fromMm: 5, toMm: 20, state: 'suspect' }] }), 'chart.tracks[1].coverage has two that overlap at 5 mm'],
  [withTrack({ coverage: [{ fromMm: 0, toMm: 9, state: 'good' as never }] }), 'chart.tracks[1].coverage[0].state is none of: confirmed, provisional, suspect, missing'],
  [withTrack({ marks: [trackMark('indication', 9, 8)] }), 'chart.tracks[1].marks[0] ends before it starts'],
])('refuses what cannot be drawn as it is (%#)', (chart, problem) => {
  expect(() => { checkStripChart('chart', chart); }).toThrow(problem);
});

test('takes a full chart, and depths of unknown uncertainty', () => {
  checkStripChart('chart', fullStripChart(12));
  checkStripChart('chart', withAxis({ quantity: 'outer-wall depth', depth: { ...depth, uncertaintyMm: null }, second }));
});
