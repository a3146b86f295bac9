import type { Column } from '#libs/signals';
import { checkPresent, ReportDataError } from '../check-fields.js';
import type { IntervalMm } from '../instants-and-lengths.js';
import { CHART_COVERAGES, CHART_QUANTITIES, type ChartAxis, type ChartDepth, type ChartTrack, PIPE_MARK_KINDS, type SecondAxis, type StripChart, TRACK_MARK_KINDS } from './chart-data.js';

const TRACKS_MAX = 12;
/** More columns than any screen or paper shows apart. */
const COLUMNS_MAX = 4_096;
const TITLES_MAX = 4;
export const DECIMAL = /^-?\d+(\.\d+)?$/;

export function checkWhole(path: string, lengthMm: number): void {
  if (!Number.isSafeInteger(lengthMm)) throw new ReportDataError(path, 'is not a whole number of millimetres');
}

export function checkInterval(path: string, { fromMm, toMm }: IntervalMm): void {
  checkWhole(`${path}.fromMm`, fromMm);
  checkWhole(`${path}.toMm`, toMm);
  if (fromMm > toMm) throw new ReportDataError(path, 'ends before it starts');
}

export function checkListed(path: string, word: string, words: readonly string[]): void {
  if (!words.includes(word)) throw new ReportDataError(path, `is none of: ${words.join(', ')}`);
}

export function checkTitles(path: string, titles: readonly string[]): void {
  if (titles.length < 1 || titles.length > TITLES_MAX) throw new ReportDataError(path, `are not 1 to ${TITLES_MAX}`);
  checkPresent(`${path}[0]`, titles[0] ?? '');
}

/** In their order each begins where the one before ends, or later. */
export function checkApart(path: string, intervals: readonly IntervalMm[]): void {
  intervals.forEach((interval, index) => { checkInterval(`${path}[${index}]`, interval); });
  const ordered = intervals.toSorted((a, b) => a.fromMm - b.fromMm || a.toMm - b.toMm);
  ordered.forEach((interval, index) => {
    const next = ordered[index + 1];
    if (next !== undefined && next.fromMm < interval.toMm) throw new ReportDataError(path, `has two that overlap at ${next.fromMm} mm`);
  });
}

/** Of a picture of pipe: a scale of some length, and doubts that are named. */
export function checkScale(path: string, axis: Pick<ChartAxis, 'quantity' | 'fromMm' | 'toMm' | 'unsure'>): void {
  checkListed(`${path}.quantity`, axis.quantity, CHART_QUANTITIES);
  checkInterval(path, axis);
  if (axis.fromMm === axis.toMm) throw new ReportDataError(path, 'has no length');
  axis.unsure.forEach((one, index) => {
    checkInterval(`${path}.unsure[${index}]`, one);
    checkPresent(`${path}.unsure[${index}].words`, one.words);
  });
}

/** What depths are measured from, and how sure they are. */
export function checkDepth(path: string, { datum, uncertaintyMm }: ChartDepth): void {
  checkPresent(`${path}.datum`, datum);
  if (uncertaintyMm === null) return;
  checkWhole(`${path}.uncertaintyMm`, uncertaintyMm);
  if (uncertaintyMm < 0) throw new ReportDataError(`${path}.uncertaintyMm`, 'is negative');
}

export const DEPTH_MISSING = 'is missing: no depth is drawn without its datum and uncertainty';

export function checkSecondAxis(path: string, { quantity, pieces }: SecondAxis): void {
  checkListed(`${path}.quantity`, quantity, CHART_QUANTITIES);
  checkApart(`${path}.pieces`, pieces);
  pieces.forEach(({ startMm, endMm }, index) => {
    checkWhole(`${path}.pieces[${index}].startMm`, startMm);
    checkWhole(`${path}.pieces[${index}].endMm`, endMm);
  });
}

function checkAxis(path: string, axis: ChartAxis): void {
  checkScale(path, axis);
  const isOfDepth = axis.quantity !== 'footage' || (axis.second !== null && axis.second.quantity !== 'footage');
  if (isOfDepth && axis.depth === null) throw new ReportDataError(`${path}.depth`, DEPTH_MISSING);
  if (!isOfDepth && axis.depth !== null) throw new ReportDataError(`${path}.depth`, 'is given, but neither axis is a depth');
  if (axis.depth !== null) checkDepth(`${path}.depth`, axis.depth);
  if (axis.second !== null) checkSecondAxis(`${path}.second`, axis.second);
}

function checkColumn(path: string, { summary }: Column): void {
  if (summary === null) return;
  const { least, greatest, n, mean } = summary;
  if ((least === null) !== (greatest === null)) throw new ReportDataError(path, 'has one extreme without the other');
  const values = [least?.value ?? 0, greatest?.value ?? 0, n > 0 ? mean : 0];
  if (!values.every(Number.isFinite)) throw new ReportDataError(path, 'has a value that is not finite');
  if (least !== null && greatest !== null && least.value > greatest.value) throw new ReportDataError(path, 'has a least value above its greatest');
}

function checkTrack(path: string, track: ChartTrack): void {
  checkPresent(`${path}.channel`, track.channel);
  if (track.threshold !== null && !DECIMAL.test(track.threshold.level)) throw new ReportDataError(`${path}.threshold.level`, 'is not a decimal number');
  if (track.threshold !== null) checkListed(`${path}.threshold.sense`, track.threshold.sense, ['above', 'below']);
  if (track.columns.length < 1 || track.columns.length > COLUMNS_MAX) throw new ReportDataError(`${path}.columns`, `are not 1 to ${COLUMNS_MAX}`);
  track.columns.forEach((column, index) => { checkColumn(`${path}.columns[${index}]`, column); });
  checkApart(`${path}.coverage`, track.coverage);
  track.coverage.forEach(({ state }, index) => { checkListed(`${path}.coverage[${index}].state`, state, CHART_COVERAGES); });
  track.marks.forEach((mark, index) => {
    checkInterval(`${path}.marks[${index}]`, mark);
    checkListed(`${path}.marks[${index}].kind`, mark.kind, TRACK_MARK_KINDS);
  });
}

/**
 * Refuses a chart that could not be drawn as it is.
 * @throws ReportDataError naming the field: positions that are not whole millimetres, reversed or overlapping intervals, a depth
 * without datum, more than 12 tracks or 4,096 columns, values that are not finite, words that are not known.
 */
export function checkStripChart(path: string, chart: StripChart): void {
  checkTitles(`${path}.titles`, chart.titles);
  checkAxis(`${path}.axis`, chart.axis);
  if (chart.tracks.length < 1 || chart.tracks.length > TRACKS_MAX) throw new ReportDataError(`${path}.tracks`, `are not 1 to ${TRACKS_MAX}`);
  chart.marks.forEach((mark, index) => {
    checkInterval(`${path}.marks[${index}]`, mark);
    checkListed(`${path}.marks[${index}].kind`, mark.kind, PIPE_MARK_KINDS);
  });
  chart.tracks.forEach((track, index) => { checkTrack(`${path}.tracks[${index}]`, track); });
}
