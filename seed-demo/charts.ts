import { entered, later, type Fields, type Limits, type Step } from './step.js';

const CHART_AT = '2026-03-03T15:30:00Z';
const STRING = { stringId: '@string 2' };

const reaction: Fields = {
  repeat: 'Read the place again by hand with the wall gauge, then with another instrument.',
  causes: ['coolant or scale under the gauge', 'gauge moved or wedge worn', 'thin edge or head of the coil', 'rolls set too hard'],
  adjust: 'Look for the cause at one signal; adjust at a second of the same kind; stop the line when a reading is out of specification.', decidedBy: 'Shift lead',
};

const ofHardness: Fields = {
  repeat: 'Test again beside the first indents, then with the other hardness tester.', causes: ['surface not ground flat', 'indents too near to each other or to the edge', 'annealing of the weld too short', 'another heat on one side'],
  adjust: 'Look for the cause at one signal; set the annealing anew at a second; cut the splice out when a reading is out of specification.', decidedBy: 'Welding coordinator',
};

const chart = (key: string, minutes: number, fields: Fields): Step => entered('rasmus', 'control-charts', key, {
  ...STRING, observedAt: later(CHART_AT, minutes), lambda: null, width: null, k: null, h: null, batchSize: null, alpha: null, leaveOut: { aroundSplicesMm: 300, aroundStopsMm: 1_000 }, reaction, note: null, ...fields,
});

const wall = { of: 'channel', channelIds: ['@UT-wall'], statistic: 'mean', windowMm: 500 };
const specification = { lower: '4.75', upper: null, target: null, source: 'Pipe inspection plan rev 2, 4.3' };

const CHARTS: readonly Step[] = [
  // Neighbours on one coil resemble each other, and the spread within a subgroup is that of the gauge: what a usual chart makes of it is shown in the tour.
  chart('chart WT-1', 0, {
    code: 'WT-1', title: 'Wall thickness, usual chart', characteristic: wall, unit: 'mm', subgroup: { size: 4, withinMm: 2_000, everyMm: 4_000 }, chart: 'mean-deviation',
    rules: ['one-beyond-3-sigma', 'eight-on-one-side'], specification,
  }),
  chart('chart WT-2', 5, {
    code: 'WT-2', title: 'Wall thickness, limits by the long-term spread', characteristic: wall, unit: 'mm', subgroup: { size: 1, withinMm: 0, everyMm: 4_000 }, chart: 'long-term',
    rules: ['one-beyond-3-sigma'], specification,
  }),
  chart('chart WT-3', 10, {
    code: 'WT-3', title: 'Least wall of each metre', characteristic: { ...wall, statistic: 'least', windowMm: 1_000 }, unit: 'mm', subgroup: { size: 1, withinMm: 0, everyMm: 1_000 }, chart: 'long-term',
    rules: ['one-beyond-3-sigma'], specification,
  }),
  chart('chart HV-1', 15, {
    code: 'HV-1', title: 'Hardness of splice welds', characteristic: { of: 'splice-reading', name: 'hardness-weld' }, unit: 'HV10', subgroup: { size: 1, withinMm: 0, everyMm: 0 }, chart: 'individuals',
    rules: ['one-beyond-3-sigma'], specification: { lower: null, upper: '250', target: null, source: 'WP-1 revision 1' }, leaveOut: { aroundSplicesMm: 0, aroundStopsMm: 0 }, reaction: ofHardness,
  }),
];

/** Two coils are few, and points that resemble each other say less than they seem to: both are told. Limits from the first day of the channels, and held against that day too. */
const limits = (of: string, minutes: number): Limits => ({
  step: 'limits', by: 'rasmus', recordedAt: later('2026-03-03T16:30:00Z', minutes), key: `limits of ${of}`, chart: `chart ${of}`, fromMm: 196_000, toMm: 380_000, appliesFromMm: 186_000,
  removed: [{ fromMm: 214_000, toMm: 218_000, because: 'Thin edge of the strip by S-2, seen on the day' }],
  warningsAcceptedBecause: 'Limits to begin with, from two coils and few points that say something new: they are found anew when six coils have passed.', grounds: 'Points of one day, held against the readings by hand',
});

/** Two weeks late: the pipe was in the well when the chart was read again. */
const answered: Step = entered('ilka', 'chart-reactions', 'reaction at 215 m', {
  ...STRING, observedAt: '2026-03-17T10:46:00Z', chartId: '@chart WT-3', limitsId: '@limits of WT-3', reading: 'real',
  answers: [{ panel: 'values', rule: 'one-beyond-3-sigma', fromMm: 215_001, toMm: 216_001, label: null }], repeatedValue: null, repeatedWithInstrumentId: null,
  notRepeatedBecause: 'The pipe stands below the hang-off; the record of the gauge was read again', watchFromMm: 214_001, watchToMm: 216_001,
  causesLookedAt: ['coolant or scale under the gauge', 'thin edge or head of the coil'], cause: 'Thin edge of the strip', action: 'nonconformance', did: null, nonconformanceId: '@NC-0003', note: null,
});

/** What is charted, the limits that were approved, and what was done about a signal. */
export const CONTROL_CHARTS: readonly Step[] = [...CHARTS, limits('WT-2', 0), limits('WT-3', 5), answered];
