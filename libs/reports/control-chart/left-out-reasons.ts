import { isOnAxis } from '../strip-chart/chart-frame.js';
import type { ControlChartPicture, PicturePoint } from './control-chart-data.js';
import { rangeOf } from './control-head.js';

/** Of all panels, those on the axis. */
export const pointsOf = ({ panels, axis }: ControlChartPicture): PicturePoint[] => panels.flatMap(({ points }) => points.filter((point) => isOnAxis(rangeOf(axis), point)));

export interface LeftOutReason {
  readonly reason: string;
  /** Of the first panel that has any: ranges between them are no more points. */
  readonly points: readonly PicturePoint[];
}

/** Why limits were taken without points of the chart, each reason once; its number is its place here, from 1. */
export function leftOutReasons(picture: ControlChartPicture): LeftOutReason[] {
  const found = new Map<string, { readonly panel: number; readonly points: PicturePoint[] }>();
  for (const [panel, { points }] of picture.panels.entries()) {
    for (const point of points.filter((one) => one.leftOut !== null && isOnAxis(rangeOf(picture.axis), one))) {
      const own = found.get(point.leftOut ?? '');
      if (own === undefined) found.set(point.leftOut ?? '', { panel, points: [point] });
      else if (own.panel === panel) own.points.push(point);
    }
  }
  return [...found].map(([reason, { points }]) => ({ reason, points }));
}
