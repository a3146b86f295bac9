/** What each drawing means, in as many rows as it takes; drawings that the chart does not use are left out. */
import type { Box } from '../canvas.js';
import { CHART_COVERAGES, type PipeMarkKind, type StripChart, type TrackMarkKind } from './chart-data.js';
import { type ChartFrame, textAt } from './chart-frame.js';
import { COUNTED, gapOf } from './column-runs.js';
import { hatched } from './hatch.js';
import { COUNTED_WORDS, COVERAGE_FILLINGS, filled, MARKED_FILLINGS, MARKED_WORDS, TOLD_FILLINGS } from './lanes.js';
import { type Block, box, type Shape, stroke } from './shapes.js';
import { MEAN_PEN, THRESHOLD_PEN } from './signal-plot.js';
import { bracket, drawSymbol } from './symbols.js';

interface Entry {
  readonly words: string;
  readonly draw: (area: Box, emPt: number) => Shape[];
}

const SAMPLE_EM = 2.2;
const ROW_EM = 1.6;
const BETWEEN_EM = 1.6;

const band = (area: Box, fill: 'grey' | 'white'): Shape => box(area, fill, { ink: 'dark', widthPt: 0.5 });
const middleOf = ({ xPt, yPt, widthPt, heightPt }: Box): [number, number] => [xPt + widthPt / 2, yPt + heightPt / 2];
const across = ({ xPt, yPt, widthPt, heightPt }: Box, pen: typeof MEAN_PEN): Shape => stroke(xPt, yPt + heightPt / 2, xPt + widthPt, yPt + heightPt / 2, pen);

function signalEntries({ tracks }: StripChart): Entry[] {
  const columns = tracks.flatMap((track) => track.columns);
  const entries: (Entry | null)[] = [
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

function laneEntries({ tracks }: StripChart): Entry[] {
  const states = [...CHART_COVERAGES, 'not stated'] as const;
  const counted = COUNTED.filter((name) => tracks.some(({ columns }) => columns.some(({ summary }) => (summary?.counts[name] ?? 0) > 0)));
  const marked = (['not-valid', 'excluded'] as const).filter((kind) => tracks.some(({ marks }) => marks.some((mark) => mark.kind === kind)));
  return [
    ...states.map((state): Entry => ({ words: state, draw: (area, emPt) => filled(area, COVERAGE_FILLINGS[state], emPt) })),
    ...marked.map((kind): Entry => ({
      words: kind === 'excluded' ? 'excluded: makes no indication' : `${MARKED_WORDS[kind]}: not inspected`,
      draw: (area, emPt) => filled(area, MARKED_FILLINGS[kind], emPt),
    })),
    ...counted.map((name): Entry => ({
      words: `some samples ${COUNTED_WORDS[name]}`,
      draw: (area, emPt) => filled({ ...area, yPt: area.yPt + area.heightPt * 0.2, heightPt: area.heightPt * 0.55 }, TOLD_FILLINGS[name], emPt),
    })),
  ];
}

const TRACK_WORDS: readonly (readonly [TrackMarkKind, string])[] = [
  ['indication', 'indication'], ['check-failed', 'reference check failed'], ['check-void', 'reference check void'], ['check-passed', 'reference check passed'],
];
const EVENT_WORDS: readonly (readonly [PipeMarkKind, string])[] = [['stop', 'line stop'], ['reversal', 'pipe went back'], ['set-up change', 'set-up changed']];

function markEntries({ tracks, marks }: StripChart): Entry[] {
  const onTracks = TRACK_WORDS.filter(([kind]) => tracks.some((track) => track.marks.some((mark) => mark.kind === kind)));
  const onPipe = EVENT_WORDS.filter(([kind]) => marks.some((mark) => mark.kind === kind));
  return [...onTracks, ...onPipe].map(([kind, words]) => ({
    words,
    draw: (area, emPt) => {
      if (kind === 'indication') return bracket(area.xPt, area.widthPt, area.yPt, area.heightPt);
      const [xPt, yPt] = middleOf(area);
      return kind === 'not-valid' || kind === 'excluded' || kind === 'splice' || kind === 're-join' || kind === 'cut-out' ? [] : drawSymbol(kind, xPt, yPt, 0.9 * emPt);
    },
  }));
}

/** The key of a whole chart. */
export function keyBlock(chart: StripChart, frame: ChartFrame): Block {
  const { emPt, widthPt } = frame;
  const sizeEm = 0.95;
  const shapes: Shape[] = [];
  let [xPt, row] = [0, 0];
  for (const { words, draw } of [...signalEntries(chart), ...laneEntries(chart), ...markEntries(chart)]) {
    const neededPt = (SAMPLE_EM + 0.5) * emPt + frame.ruler(words, sizeEm * emPt, false);
    if (xPt > 0 && xPt + neededPt > widthPt) [xPt, row] = [0, row + 1];
    const topPt = row * ROW_EM * emPt;
    shapes.push(...draw({ xPt, yPt: topPt + 0.2 * emPt, widthPt: SAMPLE_EM * emPt, heightPt: emPt }, emPt));
    shapes.push(textAt(frame, words, xPt + (SAMPLE_EM + 0.5) * emPt, topPt + emPt, { sizeEm }));
    xPt += neededPt + BETWEEN_EM * emPt;
  }
  return { heightPt: ((row + 1) * ROW_EM + 0.4) * emPt, shapes };
}
