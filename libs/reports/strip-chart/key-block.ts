/** What each drawing means, in as many rows as it takes; drawings that the chart does not use are left out. */
import type { Box } from '../canvas.js';
import { CHART_COVERAGES, type HeadMarkKind, type StripChart, type TrackMarkKind } from './chart-data.js';
import type { ChartFrame } from './chart-frame.js';
import { COUNTED, gapOf } from './column-runs.js';
import { hatched } from './hatch.js';
import type { JointKind } from './head-block.js';
import { type KeyEntry, keyRows } from './key-rows.js';
import { COUNTED_WORDS, COVERAGE_FILLINGS, filled, MARKED_FILLINGS, MARKED_WORDS, TOLD_FILLINGS } from './lanes.js';
import { type Block, box, type Shape, stroke } from './shapes.js';
import { MEAN_PEN, THRESHOLD_PEN } from './signal-plot.js';
import { bracket, drawSymbol, type SymbolName } from './symbols.js';

const band = (area: Box, fill: 'grey' | 'white'): Shape => box(area, fill, { ink: 'dark', widthPt: 0.5 });
const middleOf = ({ xPt, yPt, widthPt, heightPt }: Box): [number, number] => [xPt + widthPt / 2, yPt + heightPt / 2];
const across = ({ xPt, yPt, widthPt, heightPt }: Box, pen: typeof MEAN_PEN): Shape => stroke(xPt, yPt + heightPt / 2, xPt + widthPt, yPt + heightPt / 2, pen);

function signalEntries({ tracks }: StripChart): KeyEntry[] {
  const columns = tracks.flatMap((track) => track.columns);
  const entries: (KeyEntry | null)[] = [
    { words: 'from the least to the greatest value of a column', draw: (area) => [band(area, 'grey')] },
    { words: 'mean', draw: (area) => [across(area, MEAN_PEN)] },
    tracks.some(({ threshold }) => threshold !== null) ? { words: 'threshold', draw: (area) => [across(area, THRESHOLD_PEN)] } : null,
    columns.some((column) => gapOf(column) !== null)
      ? { words: 'gap: nothing to draw', draw: (area, emPt) => [box(area, 'white', { ink: 'dark', widthPt: 0.4 }), ...hatched(area, 'wide-falling', emPt)] } : null,
    columns.some((column) => gapOf(column) === null && column.sharpness === 'coarse')
      ? { words: 'coarse: values may lie in columns beside', draw: (area, emPt) => [band(area, 'white'), ...hatched(area, 'upright', emPt)] } : null,
    columns.some(({ summary }) => (summary?.counts.saturatedHigh ?? 0) + (summary?.counts.saturatedLow ?? 0) > 0)
      ? { words: 'extreme is a bound: ≥ or ≤', draw: arrowhead } : null,
  ];
  return entries.filter((entry) => entry !== null);
}

function arrowhead(area: Box, emPt: number): Shape[] {
  const [xPt, yPt] = middleOf(area);
  const half = 0.35 * emPt;
  return [{ kind: 'area', fill: 'black', pen: null, points: [[xPt - half, yPt + half], [xPt + half, yPt + half], [xPt, yPt - half]] }];
}

function laneEntries({ tracks }: StripChart): KeyEntry[] {
  const states = [...CHART_COVERAGES, 'not stated'] as const;
  const counted = COUNTED.filter((name) => tracks.some(({ columns }) => columns.some(({ summary }) => (summary?.counts[name] ?? 0) > 0)));
  const marked = (['not-valid', 'excluded'] as const).filter((kind) => tracks.some(({ marks }) => marks.some((mark) => mark.kind === kind)));
  return [
    ...states.map((state): KeyEntry => ({ words: state, draw: (area, emPt) => filled(area, COVERAGE_FILLINGS[state], emPt) })),
    ...marked.map((kind): KeyEntry => ({
      words: kind === 'excluded' ? 'excluded: makes no indication' : `${MARKED_WORDS[kind]}: not inspected`,
      draw: (area, emPt) => filled(area, MARKED_FILLINGS[kind], emPt),
    })),
    ...counted.map((name): KeyEntry => ({
      words: `some samples ${COUNTED_WORDS[name]}`,
      draw: (area, emPt) => filled({ ...area, yPt: area.yPt + area.heightPt * 0.2, heightPt: area.heightPt * 0.55 }, TOLD_FILLINGS[name], emPt),
    })),
  ];
}

const TRACK_WORDS: readonly (readonly [Exclude<TrackMarkKind, 'not-valid' | 'excluded'>, string])[] = [
  ['indication', 'indication'], ['check-failed', 'reference check failed'], ['check-void', 'reference check void'], ['check-passed', 'reference check passed'],
];
const EVENT_WORDS: readonly (readonly [Exclude<HeadMarkKind, JointKind>, string])[] = [
  ['stop', 'line stop'], ['reversal', 'pipe went back'], ['set-up change', 'set-up changed'], ['inspection run', 'inspection run begins'], ['check', 'reference check'],
];

const symbolEntry = (kind: SymbolName, words: string): KeyEntry => ({ words, draw: (area, emPt) => drawSymbol(kind, ...middleOf(area), 0.9 * emPt) });

/** Symbols over the pipe. */
export const eventEntries = (marks: readonly { readonly kind: HeadMarkKind }[]): KeyEntry[] =>
  EVENT_WORDS.filter(([kind]) => marks.some((mark) => mark.kind === kind)).map(([kind, words]) => symbolEntry(kind, words));

function markEntries({ tracks, marks }: StripChart): KeyEntry[] {
  const onTracks = TRACK_WORDS.filter(([kind]) => tracks.some((track) => track.marks.some((mark) => mark.kind === kind)));
  const ofTracks = onTracks.map(([kind, words]) =>
    (kind === 'indication' ? { words, draw: (area: Box) => bracket(area.xPt, area.widthPt, area.yPt, area.heightPt) } : symbolEntry(kind, words)));
  return [...ofTracks, ...eventEntries(marks)];
}

/** The key of a whole chart. */
export const keyBlock = (chart: StripChart, frame: ChartFrame): Block => keyRows([...signalEntries(chart), ...laneEntries(chart), ...markEntries(chart)], frame);
