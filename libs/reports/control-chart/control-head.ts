/** What stands over the panels: the pipe with its coils and scales, or the order; and the pipe to watch, which stands under them. */
import { IntervalSet } from '#libs/intervals';
import { formatMetresShort, type IntervalMm } from '../instants-and-lengths.js';
import { type ChartFrame, frameOf, isOnAxis, rowsBeside, stretchOf, textAt, xOf } from '../strip-chart/chart-frame.js';
import { pipeBlock, scaleBlock, scaleRow, secondScaleBlock } from '../strip-chart/head-block.js';
import { filled, type Filling } from '../strip-chart/lanes.js';
import { cutToFit, oneLine, type Ruler } from '../strip-chart/ruler.js';
import { type Block, box, type Shape, stacked, stroke } from '../strip-chart/shapes.js';
import { plateIn } from '../strip-chart/signal-plot.js';
import type { ControlChartAxis, ControlChartPicture } from './control-chart-data.js';

/** Room left of and right of the plot: a specification with its unit takes more than a threshold. */
export const BESIDE_CONTROL_EM = 31;
export const WATCH_FILLING: Filling = { fill: 'white', hatch: 'crossed', pen: { ink: 'black', widthPt: 0.8 } };
const LANE_EM = 1.4;
const LABEL_EM = 9;

/** Of an order with nothing in it there is one empty place. */
export const rangeOf = (axis: ControlChartAxis): IntervalMm => (axis.by === 'pipe' ? axis : { fromMm: 0, toMm: Math.max(1, axis.labels.length) });

export const controlFrame = (axis: ControlChartAxis, widthPt: number, emPt: number, ruler: Ruler): ChartFrame => frameOf(rangeOf(axis), widthPt, emPt, ruler, BESIDE_CONTROL_EM);

export function controlHead(picture: ControlChartPicture, frame: ChartFrame): Block {
  const { axis, marks } = picture;
  const gap = { heightPt: 0.6 * frame.emPt, shapes: [] };
  if (axis.by === 'order') return stacked([orderBlock(axis, picture, frame), gap]);
  const shown = marks.filter((mark) => isOnAxis(frame.plot.rangeMm, mark));
  return stacked([
    pipeBlock(axis, shown, frame), coilLane(picture, frame), scaleBlock(axis, frame), ...axis.seconds.map((second) => secondScaleBlock(second, second.depth, frame)), gap,
  ]);
}

/** Coils by turns grey and white, with their numbers where they fit. */
function coilLane({ coils }: ControlChartPicture, frame: ChartFrame): Block {
  const { emPt, plot } = frame;
  if (!coils.some((coil) => isOnAxis(plot.rangeMm, coil))) return { heightPt: 0, shapes: [] };
  let unnamed = 0;
  const shapes = coils.flatMap((coil, index): Shape[] => {
    if (!isOnAxis(plot.rangeMm, coil)) return [];
    const [fromPt, toPt] = [xOf(frame, coil.fromMm), xOf(frame, coil.toMm)];
    const area = { xPt: fromPt, yPt: 0.2 * emPt, widthPt: toPt - fromPt, heightPt: LANE_EM * emPt };
    const number = plateIn(area, oneLine(coil.label), frame);
    if (number.length === 0) unnamed += 1;
    return [box(area, index % 2 === 0 ? 'white' : 'pale', { ink: 'dark', widthPt: 0.5 }), ...number.filter(({ kind }) => kind === 'text')];
  });
  return {
    heightPt: (LANE_EM + 0.35) * emPt,
    shapes: [...shapes, laneName('coils', frame), ...(unnamed === 0 ? [] : rowsBeside(frame, [`${unnamed} not numbered`], 1.2 * emPt))],
  };
}

const laneName = (name: string, frame: ChartFrame): Shape => textAt(frame, name, frame.plot.leftPt - 0.5 * frame.emPt, 1.2 * frame.emPt, { hold: 'end', sizeEm: 0.95 });

/** Labels of an order: where something signals, then the ends, then at equal distances. */
function orderBlock({ of, labels }: Extract<ControlChartAxis, { by: 'order' }>, { panels }: ControlChartPicture, frame: ChartFrame): Block {
  const { emPt, plot, ruler } = frame;
  const signalling = panels.flatMap(({ points }) => points.filter(({ signals }) => signals.length > 0).map(({ toMm }) => toMm - 1));
  const stride = Math.max(1, Math.ceil((labels.length * 3 * emPt) / plot.widthPt));
  const regular = Array.from({ length: Math.ceil(labels.length / stride) }, (_, index) => index * stride);
  const marks = [...new Set([...signalling, 0, labels.length - 1, ...regular])].flatMap((index) => {
    const label = labels[index];
    return label === undefined ? [] : [{ xPt: xOf(frame, index + 0.5), text: cutToFit(oneLine(label), LABEL_EM * emPt, emPt, false, ruler) }];
  });
  return scaleRow(`${of.charAt(0).toUpperCase()}${of.slice(1)}`, marks, [`${labels.length} in order`], [[plot.leftPt, frame.plotRightPt]], frame);
}

/** Pipe to watch, hatched; of no height where there is none. */
export function watchLane({ watch }: ControlChartPicture, frame: ChartFrame): Block {
  const { emPt, plot, plotRightPt } = frame;
  const shown = watchedOn(watch, plot.rangeMm).intervals;
  if (shown.length === 0) return { heightPt: 0, shapes: [] };
  const bars = shown.flatMap((one) => {
    const { leftPt, widthPt } = stretchOf(frame, one) ?? { leftPt: 0, widthPt: 0 };
    const area = { xPt: leftPt, yPt: 0.1 * emPt, widthPt, heightPt: LANE_EM * emPt };
    return [...filled(area, WATCH_FILLING, emPt), ...plateIn(area, 'watch', frame)];
  });
  return {
    heightPt: (LANE_EM + 0.7) * emPt,
    shapes: [
      stroke(plot.leftPt, (0.1 + LANE_EM) * emPt, plotRightPt, (0.1 + LANE_EM) * emPt, { ink: 'dark', widthPt: 0.5 }), ...bars, laneName('watch', frame),
      ...rowsBeside(frame, [watchWords(watch, plot.rangeMm)], 1.15 * emPt, true),
    ],
  };
}

const watchedOn = (watch: readonly IntervalMm[], range: IntervalMm): IntervalSet => IntervalSet.from(watch).intersect(range);

/** How much pipe to watch is on the axis; empty for none. */
export function watchWords(watch: readonly IntervalMm[], range: IntervalMm): string {
  const lengthMm = watchedOn(watch, range).totalLengthMm;
  return lengthMm === 0 ? '' : `watch ${formatMetresShort(lengthMm)} m`;
}
