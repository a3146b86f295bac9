/** What each drawing of a control chart means; drawings that it does not use are left out. */
import type { Box } from '../canvas.js';
import type { ChartFrame } from '../strip-chart/chart-frame.js';
import { eventEntries } from '../strip-chart/key-block.js';
import { type KeyEntry, keyRows } from '../strip-chart/key-rows.js';
import { filled } from '../strip-chart/lanes.js';
import { type Block, type Pen, type Shape, stroke } from '../strip-chart/shapes.js';
import { xOf } from '../strip-chart/chart-frame.js';
import type { ControlChartPicture } from './control-chart-data.js';
import { WATCH_FILLING } from './control-head.js';
import { CENTRE_PEN, LIMIT_PEN, wallIn, ZONE_PEN } from './limit-lines.js';
import { dotAt, isSpan, leftOutAt, POINT_LINE_PEN, signalAt, SPAN_PEN } from './panel-points.js';
import { type PanelPlace, panelPlace } from './panel-place.js';

const middleOf = ({ xPt, yPt, widthPt, heightPt }: Box): [number, number] => [xPt + widthPt / 2, yPt + heightPt / 2];
const across = (area: Box, pen: Pen): Shape => stroke(area.xPt, middleOf(area)[1], area.xPt + area.widthPt, middleOf(area)[1], pen);

/** The key of a whole chart. */
export function controlKey(picture: ControlChartPicture, frame: ChartFrame): Block {
  const { panels, marks, watch } = picture;
  const places = panels.map((panel) => panelPlace(panel, { xPt: frame.plot.leftPt, yPt: 0, widthPt: frame.plot.widthPt, heightPt: frame.emPt }, frame));
  const entries: (KeyEntry | null)[] = [
    ...pointEntries(places, frame), ...lineEntries(picture, places),
    watch.length > 0 ? { words: 'watch: from the last good point on', draw: (area, emPt) => filled(area, WATCH_FILLING, emPt) } : null,
  ];
  return keyRows([...entries.filter((entry) => entry !== null), ...eventEntries(marks)], frame);
}

function pointEntries(places: readonly PanelPlace[], frame: ChartFrame): (KeyEntry | null)[] {
  const points = places.flatMap((place) => place.points);
  const has = (of: (point: PanelPlace['points'][number]['point'], place: PanelPlace) => boolean): boolean => places.some((place) => place.points.some(({ point }) => of(point, place)));
  return [
    points.length > 0 ? { words: 'point', draw: (area, emPt) => [across(area, POINT_LINE_PEN), dotAt(...middleOf(area), 0.26 * emPt)] } : null,
    places.some(({ isDense }) => isDense) ? { words: 'where points stand too close: from the least to the greatest', draw: zigzag } : null,
    has(({ fromMm, toMm }, { isDense, dotPt }) => !isDense && isSpan(xOf(frame, toMm) - xOf(frame, fromMm), dotPt)) ? { words: 'what a point speaks for', draw: span } : null,
    has(({ beginsAnew, fromMm }) => beginsAnew && fromMm > (points[0]?.point.fromMm ?? 0)) ? { words: 'no line: something else began', draw: broken } : null,
    has(({ signals }) => signals.length > 0) ? { words: 'signal: letter of its rule, its number', draw: (area, emPt) => [across(area, POINT_LINE_PEN), ...signalAt(...middleOf(area), emPt)] } : null,
    has(({ leftOut }) => leftOut !== null) ? { words: 'limits taken without it, (reason)', draw: (area, emPt) => [across(area, POINT_LINE_PEN), ...leftOutAt(...middleOf(area), emPt)] } : null,
  ];
}

function lineEntries({ panels }: ControlChartPicture, places: readonly PanelPlace[]): (KeyEntry | null)[] {
  const points = places.flatMap((place) => place.points);
  const isWithin = places.some(({ specification }) => specification.some(({ isOffScale }) => !isOffScale));
  return [
    points.some(({ point }) => point.upper !== null || point.lower !== null) ? { words: 'control limits, UCL and LCL', draw: (area) => [across(area, LIMIT_PEN)] } : null,
    points.length > 0 ? { words: 'centre line, CL', draw: (area) => [across(area, CENTRE_PEN)] } : null,
    panels.some(({ hasZones }) => hasZones) && points.length > 0 ? { words: '1 and 2 standard errors from the centre', draw: (area) => [across(area, ZONE_PEN)] } : null,
    isWithin ? { words: 'outside the specification', draw: (area, emPt) => wallIn({ ...area, heightPt: 0.75 * area.heightPt }, 'upper', emPt) } : null,
  ];
}

function zigzag({ xPt, yPt, widthPt, heightPt }: Box): Shape[] {
  const shares = [0.5, 0.1, 0.8, 0.3, 1, 0.2, 0.7, 0, 0.9, 0.5];
  return [{ kind: 'line', pen: POINT_LINE_PEN, points: shares.map((share, index) => [xPt + (widthPt * index) / (shares.length - 1), yPt + heightPt * share]) }];
}

function span(area: Box, emPt: number): Shape[] {
  const [, yPt] = middleOf(area);
  return [across(area, SPAN_PEN), ...[area.xPt, area.xPt + area.widthPt].map((xPt) => stroke(xPt, yPt - 1.6, xPt, yPt + 1.6, SPAN_PEN)), dotAt(...middleOf(area), 0.26 * emPt)];
}

function broken(area: Box, emPt: number): Shape[] {
  const [, yPt] = middleOf(area);
  const [near, far] = [area.xPt + 0.35 * area.widthPt, area.xPt + 0.65 * area.widthPt];
  return [
    stroke(area.xPt, yPt, near, yPt, POINT_LINE_PEN), stroke(far, yPt, area.xPt + area.widthPt, yPt, POINT_LINE_PEN), ...[near, far].map((xPt) => dotAt(xPt, yPt, 0.22 * emPt)),
  ];
}
