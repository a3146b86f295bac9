import { PANEL_SHOWS } from '#libs/charting';
import { checkPresent, ReportDataError } from '../check-fields.js';
import type { IntervalMm } from '../instants-and-lengths.js';
import { HEAD_MARK_KINDS } from '../strip-chart/chart-data.js';
import { checkApart, checkDepth, checkInterval, checkListed, checkScale, checkSecondAxis, checkTitles, DECIMAL, DEPTH_MISSING } from '../strip-chart/check-chart.js';
import type { ControlChartAxis, ControlChartPicture, DepthAxis, PicturePanel, PicturePoint } from './control-chart-data.js';
import { SIGNAL_RULES } from './rule-letters.js';

const PANELS_MAX = 3;
const SECONDS_MAX = 2;
/** Far more than anybody charts; a drawing of so many takes seconds where every tenth signals. */
const POINTS_MAX = 50_000;
const SIGNALS_MAX = 5_000;
/** What stands on one page in any script. */
const NOTE_MAX = 2_000;
const OF_SPREADS: ReadonlySet<PicturePanel['shows']> = new Set(['ranges', 'deviations', 'moving ranges']);

/**
 * Refuses a chart that could not be drawn as it is.
 * @throws ReportDataError naming the field: no or too many panels, values that are not finite, limits that cross, points out of order,
 * places off an order, signals that are not listed or of no rule, a specification that is no decimal number or of a spread, a depth
 * without datum, blank words.
 */
export function checkControlChart(path: string, picture: ControlChartPicture): void {
  checkTitles(`${path}.titles`, picture.titles);
  if (picture.axis.by === 'pipe') checkPipe(path, picture.axis, picture);
  else checkOrder(path, picture.axis, picture);
  if (picture.panels.length < 1 || picture.panels.length > PANELS_MAX) throw new ReportDataError(`${path}.panels`, `are not 1 to ${PANELS_MAX}`);
  if (picture.signals.length > SIGNALS_MAX) throw new ReportDataError(`${path}.signals`, `are more than ${SIGNALS_MAX}`);
  picture.signals.forEach(({ number, rule, text }, index) => {
    if (number !== index + 1) throw new ReportDataError(`${path}.signals[${index}].number`, `is not ${index + 1}`);
    checkListed(`${path}.signals[${index}].rule`, rule, SIGNAL_RULES);
    checkPresent(`${path}.signals[${index}].text`, text);
  });
  picture.notes.forEach(({ text }, index) => {
    checkPresent(`${path}.notes[${index}].text`, text);
    if (text.length > NOTE_MAX) throw new ReportDataError(`${path}.notes[${index}].text`, `is longer than ${NOTE_MAX} characters`);
  });
  picture.panels.forEach((panel, index) => { checkPanel(`${path}.panels[${index}]`, panel, picture); });
}

type Pipe = Extract<ControlChartAxis, { by: 'pipe' }>;
type Order = Extract<ControlChartAxis, { by: 'order' }>;

function checkPipe(path: string, axis: Pipe, { marks, coils, watch }: ControlChartPicture): void {
  checkScale(`${path}.axis`, axis);
  checkDepthOf(`${path}.axis`, axis);
  if (axis.seconds.length > SECONDS_MAX) throw new ReportDataError(`${path}.axis.seconds`, `are more than ${SECONDS_MAX}`);
  axis.seconds.forEach((second, index) => {
    checkSecondAxis(`${path}.axis.seconds[${index}]`, second);
    checkDepthOf(`${path}.axis.seconds[${index}]`, second);
  });
  marks.forEach((mark, index) => {
    checkInterval(`${path}.marks[${index}]`, mark);
    checkListed(`${path}.marks[${index}].kind`, mark.kind, HEAD_MARK_KINDS);
  });
  checkApart(`${path}.coils`, coils);
  coils.forEach(({ label }, index) => { checkPresent(`${path}.coils[${index}].label`, label); });
  watch.forEach((one, index) => {
    checkInterval(`${path}.watch[${index}]`, one);
    if (one.fromMm === one.toMm) throw new ReportDataError(`${path}.watch[${index}]`, 'has no length');
  });
}

function checkDepthOf(path: string, { quantity, depth }: Pick<DepthAxis, 'quantity' | 'depth'>): void {
  if (quantity !== 'footage' && depth === null) throw new ReportDataError(`${path}.depth`, DEPTH_MISSING);
  if (quantity === 'footage' && depth !== null) throw new ReportDataError(`${path}.depth`, 'is given, but footage is no depth');
  if (depth !== null) checkDepth(`${path}.depth`, depth);
}

function checkOrder(path: string, { of }: Order, { marks, coils, watch }: ControlChartPicture): void {
  checkPresent(`${path}.axis.of`, of);
  for (const [name, list] of Object.entries({ marks, coils, watch })) {
    if (list.length > 0) throw new ReportDataError(`${path}.${name}`, 'are given, but the axis is no pipe');
  }
}

function checkPanel(path: string, { shows, points, specification }: PicturePanel, { axis, signals }: ControlChartPicture): void {
  checkListed(`${path}.shows`, shows, PANEL_SHOWS);
  if (points.length > POINTS_MAX) throw new ReportDataError(`${path}.points`, `are more than ${POINTS_MAX}`);
  points.forEach((point, index) => {
    checkPoint(`${path}.points[${index}]`, point, signals.length);
    if (axis.by === 'order') checkPlace(`${path}.points[${index}]`, point, axis.labels.length);
    const before = points[index - 1];
    if (before !== undefined && before.fromMm > point.fromMm) throw new ReportDataError(`${path}.points[${index}]`, 'begins before the one before it');
  });
  if (specification !== null) checkSpecification(`${path}.specification`, shows, specification);
}

function checkSpecification(path: string, shows: PicturePanel['shows'], { lower, upper }: NonNullable<PicturePanel['specification']>): void {
  if (OF_SPREADS.has(shows)) throw new ReportDataError(path, `is given, but none is for ${shows}`);
  for (const [side, limit] of Object.entries({ lower, upper })) {
    if (limit !== null && !DECIMAL.test(limit)) throw new ReportDataError(`${path}.${side}`, 'is not a decimal number');
  }
  if (lower !== null && upper !== null && Number(lower) > Number(upper)) throw new ReportDataError(path, 'has a lower limit above its upper');
}

function checkPoint(path: string, point: PicturePoint, signalCount: number): void {
  checkInterval(path, point);
  const { value, centre, lower, upper, standardError } = point;
  for (const [name, number] of Object.entries({ value, centre, lower, upper, standardError })) {
    if (number !== null && !Number.isFinite(number)) throw new ReportDataError(`${path}.${name}`, 'is no finite number');
  }
  if (lower !== null && upper !== null && lower > upper) throw new ReportDataError(path, 'has a lower limit above its upper');
  if (standardError !== null && standardError < 0) throw new ReportDataError(`${path}.standardError`, 'is negative');
  point.signals.forEach((number, index) => {
    if (!Number.isSafeInteger(number) || number < 1 || number > signalCount) throw new ReportDataError(`${path}.signals[${index}]`, `is none of ${signalCount}`);
  });
  if (point.leftOut !== null) checkPresent(`${path}.leftOut`, point.leftOut);
}

function checkPlace(path: string, { fromMm, toMm }: IntervalMm, places: number): void {
  if (fromMm < 0 || toMm > places || fromMm === toMm) throw new ReportDataError(path, `lies in no place of an order of ${places}`);
}
