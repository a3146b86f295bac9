import { isOnAxis } from '../strip-chart/chart-frame.js';
import type { ControlChartPicture, PicturePoint } from './control-chart-data.js';
import { rangeOf } from './control-head.js';

/** Of all panels, those on the axis. */
export const pointsOf = ({ panels, axis }: ControlChartPicture): PicturePoint[] => panels.flatMap(({ points }) => points.filter((point) => isOnAxis(rangeOf(axis), point)));

export interface LeftOutReason {
  readonly reason: string;
  readonly points: readonly PicturePoint[];
}

/** Why limits were taken without points of the chart, each reason once; its number is its place here, from 1. */
export function leftOutReasons(picture: ControlChartPicture): LeftOutReason[] {
  const byReason = new Map<string, PicturePoint[]>();
  for (const point of pointsOf(picture)) {
    if (point.leftOut === null) continue;
    const points = byReason.get(point.leftOut);
    if (points === undefined) byReason.set(point.leftOut, [point]);
    else points.push(point);
  }
  return [...byReason].map(([reason, points]) => ({ reason, points }));
}
