import type { Column } from '#libs/signals';
import { checkPresent, ReportDataError } from '../check-fields.js';
import type { IntervalMm } from '../instants-and-lengths.js';
import { CHART_COVERAGES, CHART_QUANTITIES, type ChartAxis, type ChartTrack, PIPE_MARK_KINDS, type StripChart, TRACK_MARK_KINDS } from './chart-data.js';

const TRACKS_MAX = 12;
/** More columns than any screen or paper shows apart. */
const COLUMNS_MAX = 4_096;
const TITLES_MAX = 4;
const DECIMAL = /^-?\d+(\.\d+)?$/;

function checkWhole(path: string, lengthMm: number): void {
  if (!Number.isSafeInteger(lengthMm)) throw new ReportDataError(path, 'is not a whole number of millimetres');
}

function checkInterval(path: string, { fromMm, toMm }: IntervalMm): void {
  checkWhole(`${path}.fromMm`, fromMm);
  checkWhole(`${path}.toMm`, toMm);
  if (fromMm > toMm) throw new ReportDataError(path, 'ends before it starts');
}

function checkListed(path: string, word: string, words: readonly string[]): void {
  if (!words.includes(word)) throw new ReportDataError(path, `is none of: ${words.join(', ')}`);
}

/** In their order each begins where the one before ends, or later. */
function checkApart(path: string, intervals: readonly IntervalMm[]): void {
  intervals.forEach((interval, index) => { checkInterval(`${path}[${index}]`, interval); });
  const ordered = intervals.toSorted((a, b) => a.fromMm - b.fromMm || a.toMm - b.toMm);
  ordered.forEach((interval, index) => {
    const next = ordered[index + 1];
    if (next !== undefined && next.fromMm < interval.toMm) throw new ReportDataError(path, `has two that overlap at ${next.fromMm} mm`);
  });
}

function checkAxis(path: string, axis: ChartAxis): void {
  checkListed(`${path}.quantity`, axis.quantity, CHART_QUANTITIES);
  checkInterval(path, axis);
  if (axis.fromMm === axis.toMm) throw new ReportDataError(path, 'has no length');
  const isOfDepth = axis.quantity !== 'footage' || (axis.second !== null && axis.second.quantity !== 'footage');
  if (isOfDepth && axis.depth === null) throw new ReportDataError(`${path}.depth`, 'is missing: no depth is drawn without its datum and uncertainty');
  if (!isOfDepth && axis.depth !== null) throw new ReportDataError(`${path}.depth`, 'is given, but neither axis is a depth');
  if (axis.depth !== null) checkPresent(`${path}.depth.datum`, axis.depth.datum);
  if (axis.depth !== null && axis.depth.uncertaintyMm !== null) {
    checkWhole(`${path}.depth.uncertaintyMm`, axis.depth.uncertaintyMm);
    if (axis.depth.uncertaintyMm < 0) throw new ReportDataError(`${path}.depth.uncertaintyMm`, 'is negative');
  }
  axis.unsure.forEach((one, index) => {
    checkInterval(`${path}.unsure[${index}]`, one);
    checkPresent(`${path}.unsure[${index}].words`, one.words);
  });
  if (axis.second === null) return;
  checkListed(`${path}.second.quantity`, axis.second.quantity, CHART_QUANTITIES);
  checkApart(`${path}.second.pieces`, axis.second.pieces);
  axis.second.pieces.forEach(({ startMm, endMm }, index) => {
    checkWhole(`${path}.second.pieces[${index}].startMm`, startMm);
    checkWhole(`${path}.second.pieces[${index}].endMm`, endMm);
  });
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
  if (chart.titles.length < 1 || chart.titles.length > TITLES_MAX) throw new ReportDataError(`${path}.titles`, `are not 1 to ${TITLES_MAX}`);
  checkPresent(`${path}.titles[0]`, chart.titles[0] ?? '');
  checkAxis(`${path}.axis`, chart.axis);
  if (chart.tracks.length < 1 || chart.tracks.length > TRACKS_MAX) throw new ReportDataError(`${path}.tracks`, `are not 1 to ${TRACKS_MAX}`);
  chart.marks.forEach((mark, index) => {
    checkInterval(`${path}.marks[${index}]`, mark);
    checkListed(`${path}.marks[${index}].kind`, mark.kind, PIPE_MARK_KINDS);
  });
  chart.tracks.forEach((track, index) => { checkTrack(`${path}.tracks[${index}]`, track); });
}
