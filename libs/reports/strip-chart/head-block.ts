/** The pipe lengthwise, with what was done to it and the scales along it. */
import { roundStepMm, scaleMarks } from '../bar-scale.js';
import { formatMetres, formatMetresShort, formatUncertainty } from '../instants-and-lengths.js';
import { placeImportantFirst } from '../label-placement.js';
import { type ChartAxis, type ChartMark, HEAD_MARK_KINDS, type HeadMarkKind, type SecondAxis, type StripChart } from './chart-data.js';
import { type ChartFrame, isOnAxis, ROW_EM, rowsBeside, stretchOf, textAt, xOf } from './chart-frame.js';
import { countWithout, drawFlags, type Flag, flagsHeightPt, placeFlags } from './flags.js';
import { type Block, box, type Pen, type Shape, stacked, stroke } from './shapes.js';
import { plateIn } from './signal-plot.js';
import { drawSymbol } from './symbols.js';

const FLAG_ROWS_MAX = 3;
const PIPE_EM = 1.5;
const WALL: Pen = { ink: 'black', widthPt: 1.6 };
const TICK: Pen = { ink: 'black', widthPt: 0.7 };
const FLAG_WORDS: Readonly<Record<HeadMarkKind, string>> = {
  're-join': 're-join', 'cut-out': 'cut out', splice: 'splice', stop: 'stop', reversal: 'reversal', 'set-up change': 'set-up',
  'inspection run': 'run', check: 'check',
};
const SEVERAL: Readonly<Record<HeadMarkKind, string>> = {
  're-join': 're-joins', 'cut-out': 'cut-outs', splice: 'splices', stop: 'stops', reversal: 'reversals', 'set-up change': 'set-up changes',
  'inspection run': 'inspection runs', check: 'checks',
};
const UNSURE_RANK = -1;

/** Labels, the pipe, and one or two scales. */
export function headBlock(chart: StripChart, frame: ChartFrame): Block {
  const { axis } = chart;
  const marks = chart.marks.filter((mark) => isOnAxis(frame.plot.rangeMm, mark));
  const blocks = [pipeBlock(axis, marks, frame), scaleBlock(axis, frame)];
  if (axis.second !== null) blocks.push(secondScaleBlock(axis.second, axis.depth, frame));
  return stacked([...blocks, { heightPt: 0.5 * frame.emPt, shapes: [] }]);
}

/** Labels over the pipe, and what was done to it. */
export function pipeBlock(axis: Pick<ChartAxis, 'unsure'>, marks: readonly ChartMark<HeadMarkKind>[], frame: ChartFrame): Block {
  const { emPt, plot } = frame;
  const unsure = axis.unsure.filter((interval) => isOnAxis(plot.rangeMm, interval));
  const flags = placeFlags([
    ...unsure.filter((one) => wordsInPipe(one, 0, frame).length === 0).map(({ fromMm, words }): Flag => ({
      text: `! ${words}`, atPt: xOf(frame, fromMm), rank: UNSURE_RANK, counted: ['not sure', 'not sure'], isBold: true,
    })),
    ...marks.map(({ kind, label, fromMm }): Flag => ({
      text: `${FLAG_WORDS[kind]} ${label}`.trim(), atPt: xOf(frame, fromMm), rank: HEAD_MARK_KINDS.indexOf(kind), counted: [kind, SEVERAL[kind]], isBold: false,
    })),
  ], FLAG_ROWS_MAX, frame);
  const without = countWithout(flags);
  const symbols = marks.filter(({ kind }) => isSymbol(kind));
  const flagsPt = Math.max(flagsHeightPt(flags, frame), (without.length - 1) * 1.2 * emPt);
  const topPt = flagsPt + (symbols.length === 0 ? 0.2 : 1) * emPt;
  return {
    heightPt: topPt + PIPE_EM * emPt,
    shapes: [
      ...drawFlags(flags, flagsPt, frame),
      ...without.flatMap((text, row) => rowsBeside(frame, [text], (0.9 + row * 1.2) * emPt, row === 0)),
      ...symbols.flatMap((mark) => eventOf(mark, flagsPt, frame)),
      ...drawPipe(unsure, topPt, frame),
      ...marks.filter(({ kind }) => !isSymbol(kind)).flatMap((mark) => jointOf(mark, topPt, frame)),
      textAt(frame, 'pipe', plot.leftPt - 0.5 * emPt, topPt + 1.1 * emPt, { hold: 'end', sizeEm: 0.95 }),
    ],
  };
}

export type JointKind = 'splice' | 're-join' | 'cut-out';
export const isSymbol = (kind: HeadMarkKind): kind is Exclude<HeadMarkKind, JointKind> => kind !== 'splice' && kind !== 're-join' && kind !== 'cut-out';

/** A symbol at its place, and a line under the pipe that it concerns. */
function eventOf({ kind, fromMm, toMm }: ChartMark<HeadMarkKind>, topPt: number, frame: ChartFrame): Shape[] {
  if (!isSymbol(kind)) return [];
  const { emPt } = frame;
  const [fromPt, toPt] = [xOf(frame, fromMm), xOf(frame, toMm)];
  const reach = toPt - fromPt > 1 ? [stroke(fromPt, topPt + 0.92 * emPt, toPt, topPt + 0.92 * emPt, { ink: 'black', widthPt: 1.4 })] : [];
  return [...reach, ...drawSymbol(kind, fromPt, topPt + 0.44 * emPt, 0.82 * emPt)];
}

/** Two walls and the seam between them; the walls are broken where the scale is not sure. */
function drawPipe(unsure: ChartAxis['unsure'], topPt: number, frame: ChartFrame): Shape[] {
  const { emPt, plot, plotRightPt } = frame;
  const footPt = topPt + PIPE_EM * emPt;
  const middlePt = (topPt + footPt) / 2;
  const walls = [topPt, footPt].map((yPt) => stroke(plot.leftPt, yPt, plotRightPt, yPt, WALL));
  const doubts = unsure.flatMap((interval) => {
    const stretch = stretchOf(frame, interval);
    if (stretch === null) return [];
    const { leftPt, widthPt } = stretch;
    const broken = [topPt, footPt].flatMap((yPt) => [
      stroke(leftPt, yPt, leftPt + widthPt, yPt, { ...WALL, ink: 'white', widthPt: 2 }), stroke(leftPt, yPt, leftPt + widthPt, yPt, { ...WALL, dashPt: 3 }),
    ]);
    return [...broken, ...wordsInPipe(interval, topPt, frame)];
  });
  return [
    box({ xPt: plot.leftPt, yPt: topPt, widthPt: plot.widthPt, heightPt: footPt - topPt }, 'white'),
    stroke(plot.leftPt, middlePt, plotRightPt, middlePt, { ink: 'dark', widthPt: 0.5, dashPt: 5 }), ...walls, ...doubts,
  ];
}

/** What is not sure, in the pipe where it fits. */
function wordsInPipe(unsure: ChartAxis['unsure'][number], topPt: number, frame: ChartFrame): Shape[] {
  const stretch = stretchOf(frame, unsure);
  return stretch === null ? [] : plateIn({ xPt: stretch.leftPt, yPt: topPt, widthPt: stretch.widthPt, heightPt: PIPE_EM * frame.emPt }, `! ${unsure.words}`, frame);
}

function jointOf(mark: ChartMark<HeadMarkKind>, topPt: number, frame: ChartFrame): Shape[] {
  const stretch = stretchOf(frame, mark);
  if (stretch === null) return [];
  const heightPt = PIPE_EM * frame.emPt;
  const { leftPt, widthPt } = stretch;
  if (mark.kind === 'splice') return spliceAcross(leftPt, widthPt, topPt, heightPt);
  if (mark.kind === 're-join') return rejoinAt(leftPt + widthPt / 2, topPt, heightPt);
  return cutOutOver(leftPt, widthPt, topPt, heightPt, frame.emPt);
}

/** A slanting weld from one edge of its interval to the other. */
function spliceAcross(leftPt: number, widthPt: number, topPt: number, heightPt: number): Shape[] {
  const barPt = Math.min(2.4, widthPt / 2);
  const footPt = topPt + heightPt;
  return [{ kind: 'area', fill: 'black', pen: null, points: [[leftPt, footPt], [leftPt + barPt, footPt], [leftPt + widthPt, topPt], [leftPt + widthPt - barPt, topPt]] }];
}

/** A weld around the pipe: two lines that stand out over both walls. */
function rejoinAt(xPt: number, topPt: number, heightPt: number): Shape[] {
  const out = heightPt * 0.18;
  return [
    box({ xPt: xPt - 2.6, yPt: topPt - out, widthPt: 5.2, heightPt: heightPt + 2 * out }, 'white'),
    ...[-1.9, 1.9].map((asidePt) => stroke(xPt + asidePt, topPt - out, xPt + asidePt, topPt + heightPt + out, { ink: 'black', widthPt: 1.4 })),
  ];
}

/** Pipe that is not there: torn ends, and nothing between. */
function cutOutOver(leftPt: number, widthPt: number, topPt: number, heightPt: number, emPt: number): Shape[] {
  const toothPt = Math.min(0.3 * emPt, widthPt / 3);
  const [low, high] = [topPt - 1.2, topPt + heightPt + 1.2];
  const steps = [0, 0.25, 0.5, 0.75, 1];
  const torn = (xPt: number) => steps.map((share, index) => [xPt + (index % 2 === 0 ? 0 : toothPt), low + share * (high - low)] as const);
  const [near, far] = [torn(leftPt), torn(leftPt + widthPt - toothPt)];
  const pen: Pen = { ink: 'black', widthPt: 0.9 };
  return [{ kind: 'area', fill: 'white', pen: null, points: [...near, ...far.toReversed()] }, { kind: 'line', points: near, pen }, { kind: 'line', points: far, pen }];
}

/** @example nameOf({ quantity: 'inner-wall depth', … }) // 'Inner-wall depth, m' */
const nameOf = (quantity: string): string => `${quantity.charAt(0).toUpperCase()}${quantity.slice(1)}, m`;

/** The scale of the axis, with the uncertainty and the datum of a depth. */
export function scaleBlock(axis: Pick<ChartAxis, 'quantity' | 'depth'>, frame: ChartFrame): Block {
  const marks = scaleMarks(frame.plot.rangeMm).map(({ atMm, text }) => ({ xPt: xOf(frame, atMm), text }));
  return scaleRow(nameOf(axis.quantity), marks, besideScale(axis.quantity, axis.depth), [[frame.plot.leftPt, frame.plotRightPt]], frame);
}

/** No depth without its uncertainty and its datum. */
const besideScale = (quantity: string, depth: ChartAxis['depth']): string[] =>
  (quantity === 'footage' || depth === null ? [] : [formatUncertainty(depth.uncertaintyMm), `from ${depth.datum}`]);

/** A line with its name, marks in order of importance, and words beside it. */
export function scaleRow(
  name: string, marks: readonly { xPt: number; text: string }[], beside: readonly string[], lines: readonly (readonly [number, number])[], frame: ChartFrame,
): Block {
  const { emPt, plot, plotRightPt, ruler } = frame;
  const tickPt = 0.4 * emPt;
  const labels = marks.map(({ xPt, text }) => ({ text, centrePt: xPt, widthPt: ruler(text, emPt, false) }));
  const placed = placeImportantFirst(labels, plot.leftPt, plotRightPt);
  const words = beside.flatMap((text, row) => rowsBeside(frame, [text], (0.9 + row * 1.2) * emPt));
  return {
    heightPt: Math.max(tickPt + ROW_EM * emPt, (words.length * 1.2 + 0.2) * emPt),
    shapes: [
      ...lines.map(([fromPt, toPt]) => stroke(fromPt, 0, toPt, 0, TICK)),
      ...marks.map(({ xPt }) => stroke(xPt, 0, xPt, tickPt, TICK)),
      ...placed.map(({ text, leftPt }) => textAt(frame, text, leftPt, tickPt + emPt)),
      textAt(frame, name, 0, tickPt + emPt, { isBold: true, roomPt: plot.leftPt - 0.5 * emPt }),
      ...words,
    ],
  };
}

/** Round lengths of the other quantity where they lie, and its very ends; no line where it is not known. */
export function secondScaleBlock({ quantity, pieces }: SecondAxis, depth: ChartAxis['depth'], frame: ChartFrame): Block {
  const { rangeMm } = frame.plot;
  const known = pieces.filter((piece) => isOnAxis(rangeMm, piece) && piece.toMm > piece.fromMm).map((piece) => cutToRange(piece, rangeMm));
  const total = known.reduce((sum, { startMm, endMm }) => sum + Math.abs(endMm - startMm), 0);
  const stepMm = roundStepMm(Math.max(total, 1), 8);
  const ends = known.length === 0 ? [] : [known[0], known.at(-1)].flatMap((piece, index) => {
    if (piece === undefined) return [];
    return [{ xPt: xOf(frame, index === 0 ? piece.fromMm : piece.toMm), text: formatMetresShort(Math.round(index === 0 ? piece.startMm : piece.endMm)) }];
  });
  const marks = known.flatMap((piece) => roundMarks(piece, stepMm).map(({ atMm, valueMm }) => ({ xPt: xOf(frame, atMm), text: formatMetresShort(valueMm) })));
  const lines = known.map(({ fromMm, toMm }) => [xOf(frame, fromMm), xOf(frame, toMm)] as const);
  return scaleRow(nameOf(quantity), [...ends, ...marks], known.length === 0 ? ['not known here'] : besideScale(quantity, depth), lines, frame);
}

type Piece = SecondAxis['pieces'][number];

function cutToRange(piece: Piece, { fromMm, toMm }: { fromMm: number; toMm: number }): Piece {
  const at = (mm: number): number => piece.startMm + ((mm - piece.fromMm) / (piece.toMm - piece.fromMm)) * (piece.endMm - piece.startMm);
  const [from, to] = [Math.max(piece.fromMm, fromMm), Math.min(piece.toMm, toMm)];
  return { fromMm: from, toMm: to, startMm: at(from), endMm: at(to) };
}

function roundMarks({ fromMm, toMm, startMm, endMm }: Piece, stepMm: number): { atMm: number; valueMm: number }[] {
  if (startMm === endMm) return [];
  const [low, high] = [Math.min(startMm, endMm), Math.max(startMm, endMm)];
  const marks: { atMm: number; valueMm: number }[] = [];
  for (let valueMm = Math.ceil(low / stepMm) * stepMm; valueMm <= high; valueMm += stepMm) {
    marks.push({ valueMm, atMm: fromMm + ((valueMm - startMm) / (endMm - startMm)) * (toMm - fromMm) });
  }
  return marks;
}

/** The titles of a chart, one a row. */
export function titleBlock({ titles }: Pick<StripChart, 'titles'>, frame: ChartFrame): Block {
  const { emPt, widthPt } = frame;
  let baselinePt = 0.4 * emPt;
  const shapes = titles.map((title, row) => {
    const sizeEm = row === 0 ? 1.6 : 1.1;
    baselinePt += sizeEm * 1.3 * emPt;
    return textAt(frame, title, 0, baselinePt, { isBold: row === 0, sizeEm, roomPt: widthPt });
  });
  return { heightPt: baselinePt + 0.9 * emPt, shapes };
}

/** @example rangeWords({ quantity: 'footage', fromMm: 0, toMm: 1000, … }) // 'footage 0.000 to 1.000 m' */
export const rangeWords = ({ quantity, fromMm, toMm }: Pick<ChartAxis, 'quantity' | 'fromMm' | 'toMm'>): string => `${quantity} ${formatMetres(fromMm)} to ${formatMetres(toMm)} m`;
