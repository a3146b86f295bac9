import { csvLines, type CsvCell } from '../http/csv.js';
import type { RecordLink } from '../trace/trace.dto.js';
import type { ChartPartAnswer, ChartSignalAnswer, ControlChartViewAnswer, OutOfSpecificationAnswer } from './control-chart-view.dto.js';
import { inMetres } from './in-metres.js';

const HEAD = [
  'what', 'limits', 'panel', 'point_from', 'point_to', 'from_m', 'to_m', 'label', 'coil', 'readings', 'of', 'begins_anew', 'removed', 'value', 'centre', 'lower', 'upper', 'standard_error', 'rule', 'because', 'records',
  'known_at',
];
/** As `lagOneOf` of libs/charting finds it. */
const LAG_ONE = 'mean product of the distances from the common mean over pairs of neighbours with no beginning between them, over the mean square of all n; held to within 1 - 1/n of 0';
type Column = (typeof HEAD)[number];

/**
 * A chart as CSV (RFC 4180), with all that is needed to compute it again: once a line `caution` for each and `reaction`, the plan of
 * what to do at a signal (JSON); for each of the limits `plan` and `figures` (JSON) with the pipe that is asked about, `lag-one` (JSON),
 * `better` for the chart that would do better, `warning` for each, `point` for each point of the row with its readings, those before the
 * pipe asked about too, `plotted` for each point of each panel with its limits, `signal` with who answered, the pipe to watch and since
 * when, and `out-of-specification`; then `without-limits` and `left-out`. Signals are told of points that meet the pipe asked about.
 * Points are counted from 0 through the row of their limits. Numbers have all their digits. What does not apply is empty.
 */
export function chartCsv(answer: ControlChartViewAnswer): Generator<string> {
  return csvLines(linesOf(answer));
}

function* linesOf(answer: ControlChartViewAnswer): Generator<CsvCell[]> {
  yield HEAD;
  const line = (cells: Partial<Record<Column, CsvCell>>): CsvCell[] => HEAD.map((column) => ({ known_at: answer.knownAt, ...cells })[column] ?? '');
  for (const because of answer.cautions) yield line({ what: 'caution', because });
  yield line({ what: 'reaction', because: JSON.stringify(answer.reaction) });
  for (const part of answer.parts) yield* partLines(part, answer.records, line);
  for (const { fromMm, toMm } of answer.withoutLimits) yield line({ what: 'without-limits', from_m: metres(fromMm), to_m: metres(toMm) });
  for (const beyond of answer.outOfSpecificationWithoutLimits) yield line(beyondCells(beyond));
  for (const { place, because, records } of answer.leftOut) yield line({ what: 'left-out', from_m: metres(place?.fromMm), to_m: metres(place?.toMm), because, records: named(records) });
}

function* partLines(part: ChartPartAnswer, records: readonly RecordLink[], line: (cells: Partial<Record<Column, CsvCell>>) => CsvCell[]): Generator<CsvCell[]> {
  const limits = part.limits === null ? 'trial' : part.limits.label;
  const of = (what: string, cells: Partial<Record<Column, CsvCell>>): CsvCell[] => line({ what, limits, ...cells });
  const asked = { from_m: metres(part.fromMm), to_m: metres(part.toMm) };
  yield of('plan', { ...asked, because: JSON.stringify(part.plan) });
  yield of('figures', { ...asked, because: JSON.stringify(part.figures) });
  yield of('lag-one', { because: part.lagOne === null ? 'too few neighbours' : JSON.stringify({ ...part.lagOne, definition: LAG_ONE }) });
  if (part.better !== null) yield of('better', { label: part.better.chart, because: JSON.stringify(part.better.figures) });
  for (const { code, text } of part.warnings) yield of('warning', { label: code, because: text });
  for (const [index, point] of part.points.entries()) {
    yield of('point', {
      point_from: index, point_to: index, from_m: metres(point.fromMm), to_m: metres(point.toMm), label: point.label, coil: point.coil, readings: point.values.join(' '), of: point.of,
      begins_anew: yesNo(point.beginsAnew), removed: yesNo(point.isRemoved), records: named(point.by.flatMap((nth) => records.slice(nth, nth + 1))),
    });
  }
  for (const { shows, points } of part.panels) {
    for (const { from, to, value, centre, lower, upper, standardError } of points) yield of('plotted', { panel: shows, point_from: from, point_to: to, value, centre, lower, upper, standard_error: standardError });
  }
  for (const signal of part.signals) {
    const { panel, rule, place, label } = signal;
    yield of('signal', { panel, rule, from_m: metres(place?.fromMm), to_m: metres(place?.toMm), label, because: signalWords(signal, part), records: named(signal.by.flatMap((nth) => records.slice(nth, nth + 1))) });
  }
  for (const beyond of part.outOfSpecification) yield line({ limits, ...beyondCells(beyond) });
}

const beyondCells = ({ place, label, value, side, records }: OutOfSpecificationAnswer): Partial<Record<Column, CsvCell>> =>
  ({ what: 'out-of-specification', from_m: metres(place?.fromMm), to_m: metres(place?.toMm), label, value, because: `${side} the specification`, records: named(records) });

/** Nobody reacts to trial limits. */
function signalWords({ reactions, watch, since }: ChartSignalAnswer, { limits }: ChartPartAnswer): string {
  return [
    ...(limits === null ? [] : [reactions.length === 0 ? 'not answered' : `answered: ${named(reactions)}`]),
    ...(watch === null ? [] : [`watch ${metres(watch.fromMm)} to ${metres(watch.toMm)} m`]), ...(since === null ? [] : [`since ${since}`]),
  ].join('; ');
}

const named = (records: readonly RecordLink[]): string => records.map(({ kind, id, version, label }) => `${kind} ${label}, ${id} version ${version}`).join('; ');
const metres = (mm: number | null | undefined): CsvCell => (mm == null ? '' : inMetres(mm));
const yesNo = (value: boolean): string => (value ? 'yes' : 'no');
