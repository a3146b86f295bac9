/** Letters and numbers of signals over a plot, each with a line down to its point. */
import { type ChartFrame, textAt } from '../strip-chart/chart-frame.js';
import { type Block, box, type Pen, type Shape, stroke } from '../strip-chart/shapes.js';
import type { PictureSignal } from './control-chart-data.js';
import { SIGNAL_SIDE_EM } from './panel-points.js';
import type { PanelPlace, PlacedPoint } from './panel-place.js';
import { armOf, groupsOf, type PointGroup, plateWidthPt, polesOf } from './point-groups.js';
import { numbersInWords, RULE_LETTERS } from './rule-letters.js';

const STRIP_EM = 1.7;
const PLATE_EM = 1.35;
const POLE_PEN: Pen = { ink: 'black', widthPt: 0.6, dashPt: 1.5 };
const ARM_PEN: Pen = { ink: 'black', widthPt: 0.8 };

const signallingOf = ({ points }: PanelPlace): PlacedPoint[] => points.filter(({ point }) => point.signals.length > 0);

/** Of no height where nothing signals. Where there is no room for each, they are counted with the letters of their rules. */
export function signalStrip(place: PanelPlace, signals: readonly PictureSignal[], frame: ChartFrame): Block {
  const letterOf = (number: number): string => RULE_LETTERS[(signals[number - 1] as PictureSignal).rule];
  const groups = groupsOf(signallingOf(place), (points) => {
    const numbers = [...new Set(points.flatMap(({ point }) => point.signals))].sort((a, b) => a - b);
    const letters = [...new Set(numbers.map(letterOf))].sort().join(', ');
    return [numbersInWords(numbers, letterOf), `${numbers.length} signals ${letters}`];
  }, frame);
  return { heightPt: groups.length === 0 ? 0 : STRIP_EM * frame.emPt, shapes: groups.flatMap((group) => drawGroup(group, frame)) };
}

/** White on black, with an arm over all of its points. */
function drawGroup(group: PointGroup, frame: ChartFrame): Shape[] {
  const { emPt } = frame;
  const arm = armOf(group);
  const feet = polesOf(group.points, emPt).map(({ xPt }) => stroke(xPt, PLATE_EM * emPt, xPt, STRIP_EM * emPt, POLE_PEN));
  return [...(arm === null ? [] : [stroke(arm[0], PLATE_EM * emPt, arm[1], PLATE_EM * emPt, ARM_PEN)]), ...feet, ...signalPlate(group.text, group.leftPt, frame).shapes];
}

/** Lines from the top of the plot down to the points. */
export function signalPoles(place: PanelPlace, { emPt }: ChartFrame): Shape[] {
  const { area } = place;
  return polesOf(signallingOf(place), emPt).map(({ xPt, yPt }) => stroke(xPt, area.yPt, xPt, Math.max(area.yPt, yPt - SIGNAL_SIDE_EM * emPt / 2), POLE_PEN));
}

/** A name of signals as it stands over a plot and in a list; `xPt` is its left end. */
export function signalPlate(text: string, xPt: number, frame: ChartFrame): { widthPt: number; shapes: Shape[] } {
  const { emPt } = frame;
  const widthPt = plateWidthPt(text, frame);
  return {
    widthPt,
    shapes: [box({ xPt, yPt: 0, widthPt, heightPt: PLATE_EM * emPt }, 'black'), textAt(frame, text, xPt + widthPt / 2, 1.02 * emPt, { isBold: true, hold: 'middle', ink: 'white' })],
  };
}
