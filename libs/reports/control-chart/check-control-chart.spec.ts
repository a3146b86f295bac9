import { describe, expect, test } from '@jest/globals';
import { ReportDataError } from '../check-fields.js';
import { checkControlChart } from './check-control-chart.js';
import { fullControlChart, oneControlChart, onePanel, onePoint, oneSignals, orderedChart } from './control-chart.factory.js';
import type { ControlChartPicture, PicturePanel, PicturePoint } from './control-chart-data.js';

const axis = oneControlChart().axis as Extract<ControlChartPicture['axis'], { by: 'pipe' }>;
const withAxis = (changes: Partial<typeof axis>): ControlChartPicture => oneControlChart({ axis: { ...axis, ...changes } });
const withPanel = (changes: Partial<PicturePanel>): ControlChartPicture => oneControlChart({ panels: [onePanel(), onePanel(changes)] });
const withPoint = (changes: Partial<PicturePoint>): ControlChartPicture => withPanel({ points: [onePoint(0, 1), onePoint(5_000, 10, changes)] });
const second = { quantity: 'outer-wall depth' as const, depth: { datum: 'rotary table', uncertaintyMm: 5 }, pieces: [] };
const POINT = 'picture.panels[1].points[1]';

describe('a control chart', () => {
  test.each([
    [oneControlChart({ titles: [] }), 'picture.titles are not 1 to 4'],
    [withAxis({ toMm: 0 }), 'picture.axis has no length'],
    [withAxis({ quantity: 'inner-wall depth' }), 'picture.axis.depth is missing: no depth is drawn without its datum and uncertainty'],
    [withAxis({ depth: second.depth }), 'picture.axis.depth is given, but footage is no depth'],
    [withAxis({ seconds: [second, second, second] }), 'picture.axis.seconds are more than 2'],
    [withAxis({ seconds: [{ ...second, depth: null }] }), 'picture.axis.seconds[0].depth is missing: no depth is drawn without its datum and uncertainty'],
    [withAxis({ seconds: [{ ...second, depth: { ...second.depth, datum: ' ' } }] }), 'picture.axis.seconds[0].depth.datum is blank'],
    [oneControlChart({ marks: [{ kind: 'weld' as never, fromMm: 0, toMm: 1, label: '' }] }), 'picture.marks[0].kind is none of: '],
    [oneControlChart({ coils: [{ fromMm: 0, toMm: 9, label: 'a' }, { fromMm: 8, toMm: 12, label: 'b' }] }), 'picture.coils has two that overlap at 8 mm'],
    [oneControlChart({ coils: [{ fromMm: 0, toMm: 9, label: ' ' }] }), 'picture.coils[0].label is blank'],
    [oneControlChart({ watch: [{ fromMm: 4, toMm: 4 }] }), 'picture.watch[0] has no length'],
    [orderedChart(['a'], [onePoint(0, 1, { toMm: 1 })], { watch: [{ fromMm: 0, toMm: 1 }] }), 'picture.watch are given, but the axis is no pipe'],
    [orderedChart(['a'], [onePoint(0, 1, { toMm: 2 })]), 'picture.panels[0].points[0] lies in no place of an order of 1'],
    [oneControlChart({ panels: [] }), 'picture.panels are not 1 to 3'],
    [oneControlChart({ panels: Array.from({ length: 4 }, () => onePanel()) }), 'picture.panels are not 1 to 3'],
    [oneControlChart({ signals: oneSignals(2).toReversed() }), 'picture.signals[0].number is not 1'],
    [oneControlChart({ signals: oneSignals(1, { rule: 'tenOnOneSide' as never }) }), 'picture.signals[0].rule is none of: oneBeyond3Sigma'],
    [oneControlChart({ signals: oneSignals(1, { text: '' }) }), 'picture.signals[0].text is blank'],
    [oneControlChart({ notes: [{ text: ' ', isWarning: true }] }), 'picture.notes[0].text is blank'],
    [oneControlChart({ notes: [{ text: 'n'.repeat(2_001), isWarning: false }] }), 'picture.notes[0].text is longer than 2000 characters'],
    [withPanel({ shows: 'medians' as never }), 'picture.panels[1].shows is none of: means'],
    [withPanel({ specification: { lower: '4,5', upper: null } }), 'picture.panels[1].specification.lower is not a decimal number'],
    [withPanel({ specification: { lower: '5', upper: '4.9' } }), 'picture.panels[1].specification has a lower limit above its upper'],
    [withPanel({ shows: 'ranges', specification: { lower: null, upper: '9' } }), 'picture.panels[1].specification is given, but none is for ranges'],
    [withPanel({ points: [onePoint(5_000, 1), onePoint(4_999, 1)] }), `${POINT} begins before the one before it`],
    [withPoint({ value: NaN }), `${POINT}.value is no finite number`],
    [withPoint({ upper: Infinity }), `${POINT}.upper is no finite number`],
    [withPoint({ lower: 14 }), `${POINT} has a lower limit above its upper`],
    [withPoint({ standardError: -1 }), `${POINT}.standardError is negative`],
    [withPoint({ toMm: 4_000 }), `${POINT} ends before it starts`],
    [withPoint({ signals: [1] }), `${POINT}.signals[0] is none of 0`],
    [withPoint({ leftOut: ' ' }), `${POINT}.leftOut is blank`],
  ])('that does not hold together is refused (%#)', (picture, problem) => {
    expect(() => { checkControlChart('picture', picture); }).toThrow(ReportDataError);
    expect(() => { checkControlChart('picture', picture); }).toThrow(problem);
  });

  test('is taken full, empty, in an order, with a limit on one side, and with depths of unknown uncertainty', () => {
    for (const picture of [
      fullControlChart(), withPanel({ points: [] }), withPoint({ lower: null, standardError: null }), orderedChart([], []), orderedChart(['a', 'b'], [onePoint(0, 1, { toMm: 2 })]),
      withAxis({ seconds: [{ ...second, depth: { ...second.depth, uncertaintyMm: null } }] }),
    ]) expect(() => { checkControlChart('picture', picture); }).not.toThrow();
  });
});
