/** Words right of a plot, each at its line; they make room for each other. */
import { type ChartFrame, textAt } from '../strip-chart/chart-frame.js';
import { type Shape } from '../strip-chart/shapes.js';
import { valueY } from '../strip-chart/signal-plot.js';
import { textTo } from '../strip-chart/value-scale.js';
import type { PicturePanel } from './control-chart-data.js';
import { lastOf, LEVELS } from './limit-lines.js';
import type { PanelPlace, PlacedSpecification } from './panel-place.js';

interface LimitLabel {
  /** One or two. */
  readonly rows: readonly string[];
  readonly atPt: number;
  readonly isBold: boolean;
}

const ROW_EM = 1.2;
const SIZE_EM = 0.95;
const GAP_EM = 0.9;
const NAMES = { upper: 'UCL', centre: 'CL', lower: 'LCL' } as const;

export function drawLimitLabels({ unit }: PicturePanel, place: PanelPlace, frame: ChartFrame): Shape[] {
  const labels = [...limitLabels(place, frame), ...place.specification.map((one) => specificationLabel(one, unit, place, frame))].sort((a, b) => a.atPt - b.atPt);
  const tops = topsOf(labels, place, frame.emPt);
  return labels.flatMap((label, index) => labelAt(label, tops[index] ?? 0, frame));
}

/** How far apart the lines of a point are at the least; infinite where it has one line. */
function limitsApart({ points }: PanelPlace): number {
  let apart = Infinity;
  for (const { point: { centre, lower, upper } } of points) {
    for (const limit of [lower, upper]) if (limit !== null && limit !== centre) apart = Math.min(apart, Math.abs(limit - centre));
  }
  return apart;
}

function limitLabels(place: PanelPlace, frame: ChartFrame): LimitLabel[] {
  const apart = limitsApart(place);
  return (['upper', 'centre', 'lower'] as const).flatMap((name) => {
    const last = lastOf(place, LEVELS[name], frame);
    if (last === null) return [];
    const varies = place.points.some(({ point }) => LEVELS[name](point) !== last.value);
    return [{ rows: [`${NAMES[name]} ${textTo(last.value, apart)}${varies ? ', varies' : ''}`], atPt: valueY(place, last.value), isBold: name !== 'centre' }];
  });
}

/** In one row where that fits, and where to look for it when it is not on the scale. */
function specificationLabel({ side, text, value, isOffScale }: PlacedSpecification, unit: string, place: PanelPlace, frame: ChartFrame): LimitLabel {
  const figure = `${text.replace('-', '−')} ${unit}`.trim();
  const fits = frame.ruler(`specification ${figure}`, SIZE_EM * frame.emPt, false) <= roomPt(frame);
  const words = fits ? [`specification ${figure}`] : ['specification', figure];
  const { area } = place;
  if (!isOffScale) return { rows: words, atPt: valueY(place, value), isBold: false };
  return { rows: [...words, side === 'upper' ? 'above this scale' : 'below this scale'], atPt: side === 'upper' ? area.yPt : area.yPt + area.heightPt, isBold: false };
}

const roomPt = ({ widthPt, plotRightPt, emPt }: ChartFrame): number => widthPt - plotRightPt - GAP_EM * emPt;

/** The top of each label: as near to its line as those before it leave room, and none below the foot of the plot. */
function topsOf(labels: readonly LimitLabel[], { area }: PanelPlace, emPt: number): number[] {
  const heightOf = ({ rows }: LimitLabel): number => rows.length * ROW_EM * emPt;
  const tops: number[] = [];
  let freeFromPt = area.yPt - 0.2 * emPt;
  for (const label of labels) {
    tops.push(Math.max(freeFromPt, label.atPt - ROW_EM * emPt / 2));
    freeFromPt = (tops.at(-1) ?? 0) + heightOf(label);
  }
  let freeToPt = area.yPt + area.heightPt + 0.4 * emPt;
  for (let index = labels.length - 1; index >= 0; index -= 1) {
    const label = labels[index] as LimitLabel;
    tops[index] = Math.min(tops[index] ?? 0, freeToPt - heightOf(label));
    freeToPt = tops[index] ?? 0;
  }
  return tops;
}

function labelAt({ rows, atPt, isBold }: LimitLabel, topPt: number, frame: ChartFrame): Shape[] {
  const { emPt, plotRightPt } = frame;
  const rowPt = ROW_EM * emPt;
  const elbow: Shape = {
    kind: 'line', pen: { ink: 'black', widthPt: 0.6 },
    points: [[plotRightPt, atPt], [plotRightPt + 0.3 * emPt, atPt], [plotRightPt + 0.6 * emPt, topPt + rowPt / 2], [plotRightPt + 0.8 * emPt, topPt + rowPt / 2]],
  };
  return [elbow, ...rows.map((row, index) => textAt(frame, row, plotRightPt + GAP_EM * emPt, topPt + index * rowPt + 0.92 * emPt, { sizeEm: SIZE_EM, isBold, roomPt: roomPt(frame) }))];
}
