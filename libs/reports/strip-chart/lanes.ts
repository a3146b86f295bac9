/** Bars under a plot: what was wrong with samples, what was marked not to count, and what the inspection is worth. */
import { formatMetresShort, type IntervalMm } from '../instants-and-lengths.js';
import { CHART_COVERAGES, type ChartCoverage, type ChartMark, type ChartTrack, type TrackMarkKind } from './chart-data.js';
import { type ChartFrame, isOnAxis, rowsBeside, stretchOf, textAt } from './chart-frame.js';
import { bandOf, COUNTED, type Counted, gapOf, runsOf, toldOf } from './column-runs.js';
import { type Hatch, hatched } from './hatch.js';
import { type Block, box, type Ink, type Pen, type Shape, shifted, type TextShape } from './shapes.js';
import { plateIn } from './signal-plot.js';

/** How a bar is filled; each looks unlike the others without any colour. */
export interface Filling {
  readonly fill: Ink;
  readonly hatch: Hatch | null;
  readonly pen: Pen;
}

const THIN: Pen = { ink: 'black', widthPt: 0.6 };

export const COVERAGE_FILLINGS: Readonly<Record<ChartCoverage | 'not stated', Filling>> = {
  confirmed: { fill: 'grey', hatch: null, pen: THIN },
  provisional: { fill: 'white', hatch: 'rising', pen: THIN },
  suspect: { fill: 'white', hatch: 'crossed', pen: { ink: 'black', widthPt: 1 } },
  missing: { fill: 'white', hatch: 'crosses', pen: { ink: 'black', widthPt: 1, dashPt: 3 } },
  'not stated': { fill: 'white', hatch: 'dots', pen: { ink: 'dark', widthPt: 0.6, dashPt: 1.5 } },
};
export const MARKED_FILLINGS: Readonly<Record<'not-valid' | 'excluded', Filling>> = {
  'not-valid': { fill: 'white', hatch: 'falling', pen: THIN },
  excluded: { fill: 'white', hatch: 'upright', pen: THIN },
};
export const TOLD_FILLINGS: Readonly<Record<Counted | 'coarse', Filling>> = {
  coarse: { fill: 'white', hatch: 'upright', pen: THIN },
  missing: { fill: 'white', hatch: null, pen: THIN },
  suspectStuck: { fill: 'grey', hatch: null, pen: THIN },
  implausible: { fill: 'black', hatch: null, pen: THIN },
};
export const COUNTED_WORDS: Readonly<Record<Counted, string>> = { missing: 'missing', suspectStuck: 'stuck', implausible: 'implausible' };
export const MARKED_WORDS: Readonly<Record<'not-valid' | 'excluded', string>> = { 'not-valid': 'not valid', excluded: 'excluded' };

const LANE_EM = 1.45;
const SAMPLE_LANE_EM = 0.62;
const LANE_GAP_EM = 0.25;

export const filled = (area: { xPt: number; yPt: number; widthPt: number; heightPt: number }, { fill, hatch, pen }: Filling, emPt: number): Shape[] =>
  [box(area, fill), ...(hatch === null ? [] : hatched(area, hatch, emPt)), box(area, null, pen)];

/** A bar under the plot, its name, and what it comes to. */
interface Lane {
  readonly heightEm: number;
  readonly name: string;
  readonly amounts: readonly string[];
  readonly shapes: readonly Shape[];
}

/** The bars of a track. What they come to stands at their right, one after the other in as many rows as that takes. */
export function lanesBlock(track: ChartTrack, frame: ChartFrame): Block {
  const { emPt, plot } = frame;
  const shapes: Shape[] = [];
  let [topEm, freeFromEm] = [0, 0];
  for (const lane of [samplesLane(track, frame), markedLane(track, frame), coverageLane(track, frame)]) {
    if (lane === null) continue;
    const baselineEm = topEm + Math.max(lane.heightEm / 2 + 0.35, 0.8);
    const wordsEm = Math.max(baselineEm, freeFromEm + 0.9);
    const beside = rowsBeside(frame, lane.amounts, wordsEm * emPt);
    shapes.push(...shifted(lane.shapes, topEm * emPt), textAt(frame, lane.name, plot.leftPt - 0.5 * emPt, baselineEm * emPt, { hold: 'end', sizeEm: 0.95 }), ...beside);
    topEm += Math.max(lane.heightEm, 1.2) + LANE_GAP_EM;
    freeFromEm = wordsEm + (beside.length - 1) * 1.2 + 0.3;
  }
  return { heightPt: Math.max(topEm, freeFromEm) * emPt, shapes };
}

/** Null where every sample could be used. */
function samplesLane({ columns }: ChartTrack, frame: ChartFrame): Lane | null {
  const { emPt, plot } = frame;
  const totals = COUNTED.map((name) => ({ name, count: columns.reduce((sum, { summary }) => sum + (summary?.counts[name] ?? 0), 0) })).filter(({ count }) => count > 0);
  const gaps = runsOf(columns, (column) => (gapOf(column) === null ? null : 'gap')).length;
  const coarse = columns.filter((column) => bandOf(column) === 'coarse').length;
  if (totals.length === 0 && gaps === 0 && coarse === 0) return null;
  const columnPt = plot.widthPt / columns.length;
  const bars = runsOf(columns, toldOf).flatMap(({ from, to, kind }) => {
    const widthPt = Math.max((to - from) * columnPt, 1.5);
    const xPt = Math.min(plot.leftPt + from * columnPt, frame.plotRightPt - widthPt);
    return filled({ xPt, yPt: 0.1 * emPt, widthPt, heightPt: SAMPLE_LANE_EM * emPt }, TOLD_FILLINGS[kind], emPt);
  });
  const words = [
    ...(gaps > 0 ? [`${gaps} ${gaps === 1 ? 'gap' : 'gaps'}`] : []), ...totals.map(({ name, count }) => `${count} ${COUNTED_WORDS[name]}`),
    ...(coarse > 0 ? [`${coarse} ${coarse === 1 ? 'column' : 'columns'} coarse`] : []),
  ];
  return { heightEm: SAMPLE_LANE_EM + 0.2, name: 'samples', amounts: words, shapes: bars };
}

const isMarked = (mark: ChartMark<TrackMarkKind>): mark is ChartMark<'not-valid' | 'excluded'> => mark.kind === 'not-valid' || mark.kind === 'excluded';

/** Null where nothing is marked. What does not count as inspected is drawn over what only makes no indication. */
function markedLane({ marks }: ChartTrack, frame: ChartFrame): Lane | null {
  const { emPt, plot } = frame;
  const marked = marks.filter(isMarked).filter((mark) => isOnAxis(plot.rangeMm, mark));
  if (marked.length === 0) return null;
  const kinds = ['excluded', 'not-valid'] as const;
  const bars = kinds.flatMap((kind) => {
    const those = marked.filter((mark) => mark.kind === kind);
    const boxes = those.map((mark) => ({ mark, area: laneBox(frame, mark) }));
    return boxes.flatMap(({ mark, area }) => [...filled(area, MARKED_FILLINGS[kind], emPt), ...firstThatFits(area, wordsOf(mark), frame)]);
  });
  const counts = kinds.toReversed().map((kind) => ({ kind, count: marked.filter((mark) => mark.kind === kind).length })).filter(({ count }) => count > 0);
  return { heightEm: LANE_EM, name: 'marked', amounts: counts.map(({ kind, count }) => `${count} ${MARKED_WORDS[kind]}`), shapes: withoutHiddenTexts(bars) };
}

const wordsOf = ({ kind, label }: ChartMark<'not-valid' | 'excluded'>): string[] =>
  label.trim() === '' ? [MARKED_WORDS[kind]] : [`${MARKED_WORDS[kind]}: ${label}`, MARKED_WORDS[kind]];

/** Bars that overlap are drawn one over the other; a text under a later bar or beside its plate would be read with it. */
function withoutHiddenTexts(shapes: readonly Shape[]): Shape[] {
  const covers = (later: Shape, text: TextShape): boolean => later.kind === 'area' && later.fill !== null && reaches(later.points, text);
  return shapes.filter((shape, at) => shape.kind !== 'text' || !shapes.slice(at + 1).some((later) => covers(later, shape)));
}

function reaches(points: readonly (readonly [number, number])[], { xPt, widthPt }: { xPt: number; widthPt: number }): boolean {
  const xs = points.map(([x]) => x);
  return Math.min(...xs) < xPt + widthPt && Math.max(...xs) > xPt;
}

function laneBox(frame: ChartFrame, interval: IntervalMm): { xPt: number; yPt: number; widthPt: number; heightPt: number } {
  const stretch = stretchOf(frame, interval);
  return { xPt: stretch?.leftPt ?? 0, yPt: 0, widthPt: stretch?.widthPt ?? 0, heightPt: LANE_EM * frame.emPt };
}

function firstThatFits(area: { xPt: number; yPt: number; widthPt: number; heightPt: number }, words: readonly string[], frame: ChartFrame): Shape[] {
  for (const word of words) {
    const shapes = plateIn(area, word, frame);
    if (shapes.length > 0) return shapes;
  }
  return [];
}

/** All of the axis by state: the worse lies over the better, so that a short one shows. */
function coverageLane({ coverage }: ChartTrack, frame: ChartFrame): Lane {
  const { emPt, plot } = frame;
  const stated = coverage.filter((interval) => isOnAxis(plot.rangeMm, interval)).map((interval) => ({ ...interval, ...clipped(plot.rangeMm, interval) }));
  const all = [...notStated(plot.rangeMm, stated), ...CHART_COVERAGES.flatMap((state) => stated.filter((one) => one.state === state))];
  const bars = all.flatMap((one) => filled(laneBox(frame, one), COVERAGE_FILLINGS[one.state], emPt));
  const words = all.flatMap((one) => plateIn(laneBox(frame, one), one.state, frame));
  return { heightEm: LANE_EM, name: 'inspected', amounts: shortfall(all), shapes: [...bars, ...words] };
}

const clipped = (range: IntervalMm, { fromMm, toMm }: IntervalMm): IntervalMm => ({ fromMm: Math.max(fromMm, range.fromMm), toMm: Math.min(toMm, range.toMm) });

function notStated({ fromMm, toMm }: IntervalMm, stated: readonly IntervalMm[]): (IntervalMm & { state: 'not stated' })[] {
  const rest: (IntervalMm & { state: 'not stated' })[] = [];
  let reachedMm = fromMm;
  for (const one of stated.toSorted((a, b) => a.fromMm - b.fromMm)) {
    if (one.fromMm > reachedMm) rest.push({ fromMm: reachedMm, toMm: one.fromMm, state: 'not stated' });
    reachedMm = Math.max(reachedMm, one.toMm);
  }
  if (reachedMm < toMm) rest.push({ fromMm: reachedMm, toMm, state: 'not stated' });
  return rest;
}

/** How much of the axis is anything but confirmed, the worst first. */
function shortfall(all: readonly (IntervalMm & { state: ChartCoverage | 'not stated' })[]): string[] {
  const states = ['missing', 'suspect', 'not stated', 'provisional'] as const;
  const sums = states.map((state) => ({ state, mm: all.filter((one) => one.state === state).reduce((sum, one) => sum + one.toMm - one.fromMm, 0) }));
  const short = sums.filter(({ mm }) => mm > 0).map(({ state, mm }) => `${state} ${formatMetresShort(mm)} m`);
  return short.length === 0 ? ['all confirmed'] : short;
}
