import type { ChartMark, ChartTrack, HeadMarkKind, PipeMarkKind, TrackMarkKind } from './chart-data.js';
import { TRACK_MARK_KINDS } from './chart-data.js';
import { type ChartFrame, isOnAxis, rowsBeside, stretchOf, textAt, xOf } from './chart-frame.js';
import { countWithout, drawFlags, type Flag, type Flags, flagsHeightPt, placeFlags } from './flags.js';
import { lanesBlock } from './lanes.js';
import { drawColumnsOf, drawSaturated, drawScale, drawThreshold, type PlotPlace, plotPlace, TICK_TEXT_EM } from './signal-plot.js';
import { type Block, box, type Pen, type Shape, stacked, stroke, type TextShape } from './shapes.js';
import { bracket, drawSymbol } from './symbols.js';
import { oneLine } from './ruler.js';
import { float32Text } from './value-scale.js';

type CheckOrIndication = Exclude<TrackMarkKind, 'not-valid' | 'excluded'>;

const FLAG_ROWS_MAX = 3;
const MARK_ROW_EM = 1;
const FOOT_EM = 0.9;
/** Room for the lower half of a figure at the foot of the plot. */
const PLOT_FOOT_EM = 0.75;
const WORD_EM = 0.95;
const WORD_ROW_EM = 1.28;
const PLOT_LEAST_EM = 7;

const WORDS: Readonly<Record<CheckOrIndication, string>> = {
  'check-failed': 'check failed', indication: 'indication', 'check-void': 'check void', 'check-passed': 'check passed',
};
const SEVERAL: Readonly<Record<CheckOrIndication, string>> = {
  'check-failed': 'checks failed', indication: 'indications', 'check-void': 'checks void', 'check-passed': 'checks passed',
};
const CHECK_LINES: Readonly<Record<Exclude<CheckOrIndication, 'indication'>, Pen>> = {
  'check-failed': { ink: 'black', widthPt: 1.1 }, 'check-void': { ink: 'black', widthPt: 0.6, dashPt: 2 }, 'check-passed': { ink: 'dark', widthPt: 0.5, dashPt: 1 },
};

/** One channel: labels, plot of a height, and the bars under it. */
export function trackBlock(track: ChartTrack, pipeMarks: readonly ChartMark<PipeMarkKind>[], frame: ChartFrame, plotHeightPt: number): Block {
  const marks = track.marks.filter(isFlagged).filter((mark) => isOnAxis(frame.plot.rangeMm, mark));
  const flags = placeFlags(marks.map((mark) => flagOf(mark, frame)), FLAG_ROWS_MAX, frame);
  const plot = plotBlock(track, marks, pipeMarks, frame, plotHeightPt);
  return stacked([flagBlock(flags, marks, frame), plot, lanesBlock(track, frame), { heightPt: FOOT_EM * frame.emPt, shapes: [] }]);
}

const isFlagged = (mark: ChartMark<TrackMarkKind>): mark is ChartMark<CheckOrIndication> => mark.kind !== 'not-valid' && mark.kind !== 'excluded';

function flagOf({ kind, label, fromMm }: ChartMark<CheckOrIndication>, frame: ChartFrame): Flag {
  const text = kind === 'indication' ? label.trim() || WORDS.indication : `${WORDS[kind]} ${label}`.trim();
  return { text, atPt: xOf(frame, fromMm), rank: TRACK_MARK_KINDS.indexOf(kind), counted: [WORDS[kind], SEVERAL[kind]], isBold: kind === 'check-failed' };
}

/** Labels over a row of drawings, in which nothing is left out; the gravest lie on top. */
function flagBlock(flags: Flags, marks: readonly ChartMark<CheckOrIndication>[], frame: ChartFrame): Block {
  const { emPt } = frame;
  if (marks.length === 0) return { heightPt: 0, shapes: [] };
  const without = countWithout(flags);
  const flagsPt = Math.max(flagsHeightPt(flags, frame), (without.length - 1) * 1.2 * emPt);
  const drawings = TRACK_MARK_KINDS.toReversed().flatMap((kind) => apartOf(marks.filter((mark) => mark.kind === kind), frame)).flatMap((mark) => drawingOf(mark, flagsPt, frame));
  return {
    heightPt: flagsPt + MARK_ROW_EM * emPt,
    shapes: [...drawFlags(flags, flagsPt, frame), ...drawings, ...without.flatMap((text, row) => rowsBeside(frame, [text], (0.9 + row * 1.2) * emPt, row === 0))],
  };
}

/** Without those that would be drawn exactly over another of them. */
function apartOf<Mark extends ChartMark<CheckOrIndication>>(marks: readonly Mark[], frame: ChartFrame): Mark[] {
  const byPlace = new Map(marks.toReversed().map((mark) => [[mark.fromMm, mark.toMm].map((mm) => Math.round(2 * xOf(frame, mm))).join(), mark]));
  return [...byPlace.values()].reverse();
}

function drawingOf(mark: ChartMark<CheckOrIndication>, topPt: number, frame: ChartFrame): Shape[] {
  const heightPt = MARK_ROW_EM * frame.emPt;
  if (mark.kind !== 'indication') return drawSymbol(mark.kind, xOf(frame, mark.fromMm), topPt + heightPt / 2, 0.86 * heightPt);
  const stretch = stretchOf(frame, mark);
  return stretch === null ? [] : bracket(stretch.leftPt, stretch.widthPt, topPt + 0.1 * heightPt, 0.85 * heightPt);
}

function plotBlock(
  track: ChartTrack, marks: readonly ChartMark<CheckOrIndication>[], pipeMarks: readonly ChartMark<PipeMarkKind>[], frame: ChartFrame, heightPt: number,
): Block {
  const place = plotPlace(track, 0, heightPt, frame);
  return {
    heightPt: heightPt + PLOT_FOOT_EM * frame.emPt,
    shapes: [
      ...drawScale(place, frame), ...pipeLines(pipeMarks, place, frame), ...drawColumnsOf(place, frame), ...checkLines(marks, place, frame),
      ...drawThreshold(track, place, frame), ...drawSaturated(place, frame), box(place.frameBox, null, { ink: 'black', widthPt: 0.8 }),
      ...channelWords(track, place, frame),
    ],
  };
}

/** Where pipe was joined: both ends of a splice, and the place of a re-join or a cut-out. */
export function pipeLines(marks: readonly ChartMark<HeadMarkKind>[], { frameBox }: Pick<PlotPlace, 'frameBox'>, frame: ChartFrame): Shape[] {
  const joints = marks.filter(({ kind }) => kind === 'splice' || kind === 're-join' || kind === 'cut-out');
  return joints.filter((mark) => isOnAxis(frame.plot.rangeMm, mark)).flatMap(({ kind, fromMm, toMm }) => {
    const pen: Pen = kind === 'splice' ? { ink: 'dark', widthPt: 0.5, dashPt: 1.5 } : { ink: 'dark', widthPt: 0.9 };
    const [fromPt, toPt] = [xOf(frame, fromMm), xOf(frame, toMm)];
    const atPt = toPt - fromPt < 3 ? [(fromPt + toPt) / 2] : [fromPt, toPt];
    return atPt.map((xPt) => stroke(xPt, frameBox.yPt, xPt, frameBox.yPt + frameBox.heightPt, pen));
  });
}

function checkLines(marks: readonly ChartMark<CheckOrIndication>[], { frameBox }: PlotPlace, frame: ChartFrame): Shape[] {
  return marks.flatMap(({ kind, fromMm }) => {
    const xPt = xOf(frame, fromMm);
    return kind === 'indication' ? [] : [stroke(xPt, frameBox.yPt, xPt, frameBox.yPt + frameBox.heightPt, CHECK_LINES[kind])];
  });
}

/** The lowest plot in which figures and words find room. */
export function leastPlotPt(track: ChartTrack, frame: ChartFrame): number {
  const heightPt = PLOT_LEAST_EM * frame.emPt;
  return Math.max(heightPt, (channelWords(track, plotPlace(track, 0, heightPt, frame), frame).length * WORD_ROW_EM + 0.1) * frame.emPt);
}

/** Which channel it is, what it measures, and how far it went. */
function channelWords(track: ChartTrack, place: PlotPlace, frame: ChartFrame): TextShape[] {
  const { emPt, ruler } = frame;
  const ticksPt = Math.max(2 * emPt, ...(place.scale?.ticks ?? []).map(({ text }) => ruler(text, TICK_TEXT_EM * emPt, false)));
  const roomPt = frame.plot.leftPt - ticksPt - 1.2 * emPt;
  const names = inRows(oneLine(track.channel), 3, roomPt, (text) => ruler(text, emPt, true));
  const measures = inRows(oneLine(track.measures), 2, roomPt, (text) => ruler(text, WORD_EM * emPt, false));
  const rows = [...names, ...measures, ...extremes(track)];
  return rows.map((text, row) => {
    const isName = row < names.length;
    return textAt(frame, text, 0, (0.9 + row * WORD_ROW_EM) * emPt, { isBold: isName, sizeEm: isName ? 1 : WORD_EM, roomPt });
  });
}

/** Broken after a space, a hyphen, a point or an underscore where there is one; the last row may be too long. */
function inRows(text: string, rowsMax: number, roomPt: number, widthOf: (text: string) => number): string[] {
  if (rowsMax === 1 || widthOf(text) <= roomPt) return [text];
  const characters = Array.from(text);
  let most = characters.length - 1;
  while (most > 1 && widthOf(characters.slice(0, most).join('')) > roomPt) most -= 1;
  const parting = characters.slice(0, most).findLastIndex((character) => /[ ._-]/.test(character)) + 1;
  const count = parting > most / 2 ? parting : most;
  return [characters.slice(0, count).join('').trimEnd(), ...inRows(characters.slice(count).join('').trimStart(), rowsMax - 1, roomPt, widthOf)];
}

function extremes({ columns, unit }: ChartTrack): string[] {
  let [least, greatest, low, high] = [Infinity, -Infinity, false, false];
  for (const { summary } of columns) {
    if (summary?.least == null || summary.greatest === null) continue;
    least = Math.min(least, summary.least.value);
    greatest = Math.max(greatest, summary.greatest.value);
    low ||= summary.counts.saturatedLow > 0;
    high ||= summary.counts.saturatedHigh > 0;
  }
  if (least > greatest) return ['nothing to draw'];
  return [`least ${low ? '≤ ' : ''}${float32Text(least)} ${unit}`, `greatest ${high ? '≥ ' : ''}${float32Text(greatest)} ${unit}`].map((text) => text.trimEnd());
}

