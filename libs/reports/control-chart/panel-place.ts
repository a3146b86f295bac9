import type { Box } from '../canvas.js';
import { type ChartFrame, isOnAxis, xOf } from '../strip-chart/chart-frame.js';
import { valueY, type ValuePlace } from '../strip-chart/signal-plot.js';
import { scaleOver } from '../strip-chart/value-scale.js';
import type { PicturePanel, PicturePoint } from './control-chart-data.js';

/** Where the points and lines of a panel are drawn. */
export interface PanelPlace extends ValuePlace {
  /** Those on the axis. */
  readonly points: readonly PlacedPoint[];
  readonly specification: readonly PlacedSpecification[];
  /** Points stand so close that they are drawn as one line. */
  readonly isDense: boolean;
  /** Half the width of a dot. */
  readonly dotPt: number;
}

export interface PlacedPoint {
  readonly point: PicturePoint;
  readonly xPt: number;
  readonly yPt: number;
}

export interface PlacedSpecification {
  readonly side: 'lower' | 'upper';
  /** As printed. */
  readonly text: string;
  readonly value: number;
  /** So far from all points and limits that it is told and not drawn. */
  readonly isOffScale: boolean;
}

const TICK_EM = 1.6;
const DOT_EM = 0.26;
/** Dots are smaller where they would touch, down to this distance; below it there are none. */
const DENSE_EM = 0.25;
const DOT_SHARE = 0.36;
/** A specification is drawn where that leaves points and control limits at least this share of the height. */
const OWN_SHARE = 1 / 3;
/** Room beyond a specification limit for the hatching, as a share of the height. */
const BEYOND_SHARE = 0.09;

/** @param area of the plot, from its frame to its frame */
export function panelPlace({ points, specification }: PicturePanel, area: Box, frame: ChartFrame): PanelPlace {
  const { emPt, plot: { rangeMm, widthPt } } = frame;
  const shown = points.filter((point) => isOnAxis(rangeMm, point));
  const own = shown.flatMap(({ value, centre, lower, upper }) => [value, centre, ...(lower === null ? [] : [lower]), ...(upper === null ? [] : [upper])]);
  const specified = placedSpecification(specification, own);
  const scale = scaleOver([...own, ...roomFor(specified, own)], Math.max(3, Math.floor(area.heightPt / (TICK_EM * emPt))));
  const place = { area, scale };
  const apartPt = widthPt / Math.max(1, shown.length);
  return {
    ...place, specification: specified, isDense: apartPt < DENSE_EM * emPt, dotPt: Math.min(DOT_EM * emPt, DOT_SHARE * apartPt),
    points: shown.map((point) => ({ point, xPt: xOf(frame, (point.fromMm + point.toMm) / 2), yPt: valueY(place, point.value) })),
  };
}

function placedSpecification(specification: PicturePanel['specification'], own: readonly number[]): PlacedSpecification[] {
  const { least, greatest } = endsOf(own);
  const most = (greatest > least ? greatest - least : Math.max(Math.abs(least), 1) / 5) / OWN_SHARE;
  return (['upper', 'lower'] as const).flatMap((side) => {
    const text = specification?.[side] ?? null;
    if (text === null) return [];
    const value = Number(text);
    return [{ side, text, value, isOffScale: own.length > 0 && Math.max(greatest, value) - Math.min(least, value) > most }];
  });
}

function roomFor(specified: readonly PlacedSpecification[], own: readonly number[]): number[] {
  const drawn = specified.filter(({ isOffScale }) => !isOffScale);
  const { least, greatest } = endsOf([...own, ...drawn.map(({ value }) => value)]);
  return drawn.flatMap(({ side, value }) => [value, value + (side === 'upper' ? 1 : -1) * BEYOND_SHARE * (greatest - least)]);
}

function endsOf(values: readonly number[]): { least: number; greatest: number } {
  let [least, greatest] = [Infinity, -Infinity];
  for (const value of values) {
    if (value < least) least = value;
    if (value > greatest) greatest = value;
  }
  return least > greatest ? { least: 0, greatest: 0 } : { least, greatest };
}
