import { formatMetresShort } from '../instants-and-lengths.js';
import { CHART_COVERAGES, PIPE_MARK_KINDS, type StripChart, TRACK_MARK_KINDS } from './chart-data.js';
import { isOnAxis } from './chart-frame.js';
import { gapOf, runsOf } from './column-runs.js';
import { rangeWords } from './head-block.js';

/** The chart in words, for who cannot see it: what is on it, and how much of it is not confirmed. */
export function chartInWords(chart: StripChart): string {
  const { axis, marks, tracks } = chart;
  const onPipe = counted(PIPE_MARK_KINDS, marks.filter((mark) => isOnAxis(axis, mark)));
  return [`Strip chart of ${rangeWords(axis)}${onPipe === '' ? '' : `, with ${onPipe}`}.`, ...tracks.map((track) => trackInWords(track, chart))].join(' ');
}

function trackInWords({ channel, measures, unit, threshold, columns, coverage, marks }: StripChart['tracks'][number], { axis }: StripChart): string {
  const gaps = runsOf(columns, (column) => (gapOf(column) === null ? null : 'gap')).length;
  const lengths = CHART_COVERAGES.map((state) => ({
    state,
    mm: coverage.filter((one) => one.state === state).reduce((sum, one) => sum + Math.max(0, Math.min(one.toMm, axis.toMm) - Math.max(one.fromMm, axis.fromMm)), 0),
  }));
  const parts = [
    `${measures}${unit === '' ? '' : ` in ${unit}`}`,
    threshold === null ? 'no threshold' : `threshold ${threshold.level} or ${threshold.sense}`,
    `${gaps} ${gaps === 1 ? 'gap' : 'gaps'}`,
    ...lengths.filter(({ mm }) => mm > 0).map(({ state, mm }) => `${state} ${formatMetresShort(mm)} m`),
    counted(TRACK_MARK_KINDS, marks.filter((mark) => isOnAxis(axis, mark))),
  ];
  return `${channel}: ${parts.filter((part) => part !== '').join(', ')}.`;
}

function counted(kinds: readonly string[], marks: readonly { readonly kind: string }[]): string {
  return kinds.map((kind) => ({ kind, count: marks.filter((mark) => mark.kind === kind).length }))
    .filter(({ count }) => count > 0).map(({ kind, count }) => `${kind} ×${count}`).join(', ');
}
